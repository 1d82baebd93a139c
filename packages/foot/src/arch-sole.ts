import { keepTriangles } from '@cast-to-last/geometry/mesh/components';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import type { Wrapped } from './girths.js';

/** Where the arch's height is sought: shares of foot length, sections between them, how far its sole faces down, and how far that limit is in doubt, degrees. */
export const ARCH = { from: 0.35, to: 0.55, steps: 40, facingDeg: 45, doubtDeg: 4 } as const;

/** The part of a surface round the arch, averaged against noise. Vertices as in the whole surface. */
export interface ArchSole {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  /** Unit normals of the vertices, of the averaged surface and of one averaged half as far. */
  readonly normals: Float64Array;
  readonly halfAveraged: Float64Array;
}

/** How far beyond the stretch in which the arch is sought, and up, the surface is looked at, as shares of foot length. */
const MARGIN = 0.07;
const UP_TO = 0.3;

/** Over how much surface it is averaged, mm (standard deviation of the blur), for each mm of roughness, and at most: noise tilts small triangles by more than the limit of the sole. */
const BLUR = { perRoughness: 20, most: 4 } as const;

/** @param roughness standard deviation of the surface along its normal, mm; where it is 0, edges may be sharp and stay so */
export function archSole({ mesh: { positions: p, triangles: t }, twin }: Pick<Wrapped, 'mesh' | 'twin'>, footLength: number, roughness: number): ArchSole {
  const from = (ARCH.from - MARGIN) * footLength;
  const to = (ARCH.to + MARGIN) * footLength;
  const top = UP_TO * footLength;
  const near = new Uint8Array(p.length / 3);
  for (let v = 0, i = 0; v < near.length; v++, i += 3) near[v] = p[i] > from && p[i] < to && p[i + 2] < top ? 1 : 0;
  const keep = new Uint8Array(t.length / 3);
  for (let f = 0, i = 0; f < keep.length; f++, i += 3) keep[f] = near[t[i]] & near[t[i + 1]] & near[t[i + 2]];
  const part = keepTriangles(t, twin, keep);
  const asItIs = { positions: p, triangles: part.triangles };
  const blur = Math.min(BLUR.most, BLUR.perRoughness * roughness);
  const [mesh, half] = [blur, blur / 2].map((length) => lowPass(asItIs, length, part.twin));
  const normals = vertexNormals(mesh);
  return { mesh, twin: part.twin, normals, halfAveraged: half === mesh ? normals : vertexNormals(half) };
}
