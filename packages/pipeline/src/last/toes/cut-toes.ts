import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';

/** What stays of a body behind the cut. */
export interface CutBody {
  /** Triangles by the body's vertices; from `vertices` on, by the cut's new ones. */
  readonly triangles: Uint32Array;
  /** The edge that each new vertex lies on: its end behind, its end ahead. */
  readonly ends: Uint32Array;
  /** The rims of the cut, each as its vertices with the surface on the left. */
  readonly rims: readonly (readonly number[])[];
}

const BEHIND = 0;
const ON = 1;
const AHEAD = 2;

/**
 * Takes away what lies ahead of the cut. Vertices within `snap` of it count as on it, so that no slivers come about.
 *
 * @param height of each vertex ahead of the cut, any unit, negative behind
 */
export function cutToes(mesh: Mesh, height: Float64Array, snap: number): CutBody {
  const { triangles: t } = mesh;
  const count = height.length;
  const kind = new Uint8Array(count);
  let seed = 0;
  for (let v = 0; v < count; v++) {
    kind[v] = height[v] > snap ? AHEAD : height[v] >= -snap ? ON : BEHIND;
    if (height[v] < height[seed]) seed = v;
  }
  dropCutOff(mesh, kind, seed);
  const kept = new Uint32Array(2 * t.length);
  let size = 0;
  const keep = (a: number, b: number, c: number): void => {
    kept[size++] = a;
    kept[size++] = b;
    kept[size++] = c;
  };
  const ends: number[] = [];
  const made = new Map<number, number>();
  const between = (behind: number, front: number): number => {
    const key = behind * count + front;
    let at = made.get(key);
    if (at === undefined) {
      at = count + ends.length / 2;
      ends.push(behind, front);
      made.set(key, at);
    }
    return at;
  };
  const next = new Map<number, number>();
  /** A kept triangle's edge from a to b lies on the cut; an edge that comes both ways is inside. */
  const rim = (a: number, b: number): void => {
    if (next.get(b) === a) next.delete(b);
    else next.set(a, b);
  };
  for (let f = 0; f < t.length; f += 3) {
    const sum = kind[t[f]] + kind[t[f + 1]] + kind[t[f + 2]];
    if (sum === 0) {
      keep(t[f], t[f + 1], t[f + 2]);
      continue;
    }
    const lead = kind[t[f]] === BEHIND ? 0 : kind[t[f + 1]] === BEHIND ? 1 : kind[t[f + 2]] === BEHIND ? 2 : -1;
    if (lead < 0) continue;
    // Turned so that a lies behind, and c too if another one does.
    const turn = kind[t[f + ((lead + 1) % 3)]] === BEHIND ? (lead + 1) % 3 : lead;
    const a = t[f + turn];
    const b = t[f + ((turn + 1) % 3)];
    const c = t[f + ((turn + 2) % 3)];
    if (kind[c] === BEHIND) {
      if (kind[b] === ON) keep(a, b, c);
      else {
        const p = between(a, b);
        const q = between(c, b);
        keep(a, p, c);
        keep(c, p, q);
        rim(p, q);
      }
      continue;
    }
    const p = kind[b] === AHEAD ? between(a, b) : b;
    const q = kind[c] === AHEAD ? between(a, c) : c;
    keep(a, p, q);
    rim(p, q);
  }
  return { triangles: kept.slice(0, size), ends: Uint32Array.from(ends), rims: loopsOf(next) };
}

/** Counts as ahead what lies behind the cut but hangs on the body ahead of it alone, as a bent toe may. */
function dropCutOff(mesh: Mesh, kind: Uint8Array, seed: number): void {
  const neighbours = rememberedNeighbours(mesh);
  const reached = new Uint8Array(kind.length);
  const stack = [seed];
  reached[seed] = 1;
  for (let v = stack.pop(); v !== undefined; v = stack.pop()) {
    for (let i = neighbours.offsets[v]; i < neighbours.offsets[v + 1]; i++) {
      const w = neighbours.items[i];
      if (reached[w] === 1 || kind[w] !== BEHIND) continue;
      reached[w] = 1;
      stack.push(w);
    }
  }
  for (let v = 0; v < kind.length; v++) if (kind[v] === BEHIND && reached[v] === 0) kind[v] = AHEAD;
}

function loopsOf(next: Map<number, number>): number[][] {
  const loops: number[][] = [];
  for (let start = next.keys().next(); start.done !== true; start = next.keys().next()) {
    const loop: number[] = [];
    for (let v: number | undefined = start.value; v !== undefined && next.has(v); ) {
      loop.push(v);
      const to: number | undefined = next.get(v);
      next.delete(v);
      v = to;
    }
    loops.push(loop);
  }
  return loops;
}
