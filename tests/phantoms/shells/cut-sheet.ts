import type { NearSkin } from './near-skin.js';
import type { Sheet } from './sheet.js';
import type { Wall } from './wall.js';

/** A sheet with vertices along a line: `side` of a vertex is 0 on the line, ±1 beside it, 2 where the line does not reach. */
export interface CutSheet {
  readonly sheet: Sheet;
  readonly side: Int8Array;
}

/** A vertex nearer to the line than this share of an edge is taken to lie on it. */
const SNAP = 0.2;

/**
 * Splits the edges that cross the line where `level` is 0; NaN where the line shall not reach. New vertices are put on the
 * skin and, where both ends stand straight over it, at the wall's distance (null for the inner sheet: 0).
 */
export function cutSheet(sheet: Sheet, level: Float64Array, skin: NearSkin, wall: Wall | null): CutSheet {
  const side = Int8Array.from(level, (c) => (Number.isNaN(c) ? 2 : Math.sign(c)));
  const { triangles } = sheet;
  const crosses = (a: number, b: number): boolean => side[a] * side[b] === -1;
  const snapped: number[] = [];
  for (let h = 0; h < triangles.length; h++) {
    const [a, b] = [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]];
    if (!crosses(a, b)) continue;
    const s = level[a] / (level[a] - level[b]);
    if (s < SNAP) snapped.push(a);
    else if (s > 1 - SNAP) snapped.push(b);
  }
  for (const v of snapped) side[v] = 0;
  const added: { a: number; b: number; s: number }[] = [];
  const middle = new Map<number, number>();
  const n = side.length;
  const between = (a: number, b: number): number => {
    const key = Math.min(a, b) * 2 ** 26 + Math.max(a, b);
    let v = middle.get(key);
    if (v === undefined) {
      v = n + added.length;
      middle.set(key, v);
      added.push({ a, b, s: level[a] / (level[a] - level[b]) });
    }
    return v;
  };
  const out: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const corner = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const split = corner.map((a, k) => crosses(a, corner[(k + 1) % 3]));
    const count = split.filter(Boolean).length;
    if (count === 0) {
      out.push(...corner);
      continue;
    }
    if (count === 1) {
      const k = split.indexOf(true);
      const [a, b, c] = [corner[k], corner[(k + 1) % 3], corner[(k + 2) % 3]];
      const m = between(a, b);
      out.push(a, m, c, m, b, c);
      continue;
    }
    // The corner alone on its side, then the two others.
    const k = (split.indexOf(false) + 2) % 3;
    const [a, b, c] = [corner[k], corner[(k + 1) % 3], corner[(k + 2) % 3]];
    const [m, l] = [between(a, b), between(c, a)];
    out.push(a, m, l, m, b, c, m, c, l);
  }
  return { sheet: withVertices(sheet, Uint32Array.from(out), added, skin, wall), side: Int8Array.from({ length: n + added.length }, (_, v) => (v < n ? side[v] : 0)) };
}

function withVertices(sheet: Sheet, triangles: Uint32Array, added: readonly { a: number; b: number; s: number }[], skin: NearSkin, wall: Wall | null): Sheet {
  const n = sheet.straight.length + added.length;
  const grown = (from: Float64Array): Float64Array => {
    const to = new Float64Array(3 * n);
    to.set(from);
    return to;
  };
  const out = { positions: grown(sheet.positions), triangles, foot: grown(sheet.foot), normals: grown(sheet.normals), straight: new Uint8Array(n) };
  out.straight.set(sheet.straight);
  const q = new Float64Array(3);
  const normal = new Float64Array(3);
  added.forEach(({ a, b, s }, i) => {
    const v = sheet.straight.length + i;
    for (let k = 0; k < 3; k++) q[k] = sheet.foot[3 * a + k] + s * (sheet.foot[3 * b + k] - sheet.foot[3 * a + k]);
    skin.exactly(q, normal);
    const straight = sheet.straight[a] === 1 && sheet.straight[b] === 1;
    const t = wall === null ? 0 : wall(q[0], q[1], q[2]);
    out.foot.set(q, 3 * v);
    out.normals.set(normal, 3 * v);
    out.straight[v] = straight ? 1 : 0;
    for (let k = 0; k < 3; k++) {
      out.positions[3 * v + k] = straight ? q[k] + t * normal[k] : sheet.positions[3 * a + k] + s * (sheet.positions[3 * b + k] - sheet.positions[3 * a + k]);
    }
  });
  return out;
}

/** The triangles of a sheet for which `keep` holds, with the vertices that they use; `from` gives each one's old number. */
export function keepOfSheet(sheet: Sheet, keep: (triangle: number) => boolean): { sheet: Sheet; from: Uint32Array } {
  const number = new Int32Array(sheet.straight.length).fill(-1);
  const from: number[] = [];
  const triangles: number[] = [];
  for (let t = 0; t < sheet.triangles.length / 3; t++) {
    if (!keep(t)) continue;
    for (let k = 0; k < 3; k++) {
      const v = sheet.triangles[3 * t + k];
      if (number[v] < 0) number[v] = from.push(v) - 1;
      triangles.push(number[v]);
    }
  }
  const taken = (values: Float64Array): Float64Array => Float64Array.from({ length: 3 * from.length }, (_, i) => values[3 * from[Math.floor(i / 3)] + (i % 3)]);
  return {
    sheet: { positions: taken(sheet.positions), triangles: Uint32Array.from(triangles), foot: taken(sheet.foot), normals: taken(sheet.normals), straight: Uint8Array.from(from, (v) => sheet.straight[v]) },
    from: Uint32Array.from(from),
  };
}

/** What lies on the side where `level` is positive, with a clean border along 0. */
export function trimSheet(sheet: Sheet, level: (x: number, y: number, z: number) => number, skin: NearSkin, wall: Wall | null): Sheet {
  const p = sheet.positions;
  const cut = cutSheet(sheet, Float64Array.from({ length: p.length / 3 }, (_, v) => level(p[3 * v], p[3 * v + 1], p[3 * v + 2])), skin, wall);
  const { triangles } = cut.sheet;
  // Where snapped corners leave a triangle wholly on the line, it goes.
  return keepOfSheet(cut.sheet, (t) => {
    const sides = [0, 1, 2].map((k) => cut.side[triangles[3 * t + k]]);
    return !sides.includes(-1) && sides.includes(1);
  }).sheet;
}
