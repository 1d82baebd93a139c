import type { Mesh } from '../mesh/mesh.js';
import { section } from './section.js';
import type { SectionCurve } from './section.js';
import { twins } from '../mesh/topology.js';

/**
 * The curves where the plane normal · p = offset meets the mesh, longest first, for a mesh that is cut only a few times:
 * it looks at every triangle once instead of making an index and the twins of the whole mesh.
 *
 * @param normal unit 3-vector
 */
export function sectionOnce({ positions: p, triangles: t }: Mesh, normal: ArrayLike<number>, offset: number): SectionCurve[] {
  const met = cornersMet(t, aboveOf(p, normal[0], normal[1], normal[2], offset));
  if (met.length === 0) return [];
  const part = compacted(p, met);
  return section(part, twins(part), normal, offset);
}

/** One byte a vertex: 1 on the plane or above it. */
function aboveOf(p: Float64Array, x: number, y: number, z: number, offset: number): Uint8Array {
  const above = new Uint8Array(p.length / 3);
  for (let v = 0, i = 0; v < above.length; v++, i += 3) above[v] = x * p[i] + y * p[i + 1] + z * p[i + 2] >= offset ? 1 : 0;
  return above;
}

/** The corners of the triangles that reach to both sides. */
function cornersMet(t: Uint32Array, above: Uint8Array): number[] {
  const met: number[] = [];
  for (let f = 0; f < t.length; f += 3) {
    const sum = above[t[f]] + above[t[f + 1]] + above[t[f + 2]];
    if (sum === 1 || sum === 2) met.push(t[f], t[f + 1], t[f + 2]);
  }
  return met;
}

/** The mesh of some triangles with their vertices alone. */
function compacted(p: Float64Array, corners: readonly number[]): Mesh {
  const used = Uint32Array.from(new Set(corners)).sort();
  const positions = new Float64Array(3 * used.length);
  used.forEach((v, i) => positions.set(p.subarray(3 * v, 3 * v + 3), 3 * i));
  const rank = new Map(Array.from(used, (v, i) => [v, i] as const));
  return { positions, triangles: Uint32Array.from(corners, (v) => rank.get(v) as number) };
}
