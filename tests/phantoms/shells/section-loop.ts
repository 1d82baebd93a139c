import type { Cut } from '../reference/cut.js';

/**
 * The closed lines of a cut in their order: indices of segment ends (3·i is the place of x in `segments`), one an edge
 * crossed. Lines that end at a boundary are left out.
 */
export function closedLines({ edges }: Cut): number[][] {
  const ends = new Map<number, number[]>();
  for (let i = 0; i < edges.length; i++) {
    const there = ends.get(edges[i]);
    if (there) there.push(i);
    else ends.set(edges[i], [i]);
  }
  const used = new Uint8Array(edges.length / 2);
  const lines: number[][] = [];
  for (let s = 0; s < used.length; s++) {
    if (used[s] === 1) continue;
    const line: number[] = [];
    let at = 2 * s;
    let closed = false;
    for (;;) {
      used[at >> 1] = 1;
      line.push(at);
      const far = at ^ 1;
      const twin = (ends.get(edges[far]) as number[]).find((e) => e !== far);
      if (twin === undefined) break;
      if (used[twin >> 1] === 1) {
        closed = twin >> 1 === s;
        break;
      }
      at = twin;
    }
    if (closed) lines.push(line);
  }
  return lines;
}
