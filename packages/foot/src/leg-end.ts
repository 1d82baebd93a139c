import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormal } from '@cast-to-last/geometry/mesh/quantities';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';

export const LEG_END = {
  /** A cap, a ledge under a rod or the underside of a block is sought from this share of foot length up: below it the top of a high foot lies as flat. */
  from: 0.4,
  /** It faces up or down this much (cosine) … */
  facing: 0.8,
  /** … over this much surface, as a share of the squared foot length, within this height, mm. A leg's section has about 0.06. */
  share: 0.012,
  within: 6,
  /** The edge round it is rounded over so much, mm. */
  rounding: 2,
  /** What reaches farther above the end than a cap aslant does stands on the cast, mm. */
  cap: 30,
} as const;

/**
 * The height at which a leg ends as one: where a cap closes it, or where something that stands on the cast, such as a rod that
 * it was poured round or a block, makes a ledge. What is above is no part of the foot.
 *
 * @param mesh in the foot frame, mm
 * @returns mm; Infinity where the surface is a leg's all the way up
 */
export function legEnd(mesh: Mesh, footLength: number): number {
  const { positions: p, triangles: t } = mesh;
  const from = LEG_END.from * footLength;
  const level: { readonly z: number; readonly area: number }[] = [];
  const normal = new Float64Array(3);
  for (let f = 0; f < t.length; f += 3) {
    const z = (p[3 * t[f] + 2] + p[3 * t[f + 1] + 2] + p[3 * t[f + 2] + 2]) / 3;
    if (z < from) continue;
    triangleNormal(mesh, f, normal);
    const twice = length3(normal[0], normal[1], normal[2]);
    if (Math.abs(normal[2]) >= LEG_END.facing * twice) level.push({ z, area: twice / 2 });
  }
  level.sort((one, other) => one.z - other.z);
  const least = LEG_END.share * footLength * footLength;
  let area = 0;
  let low = 0;
  for (const upper of level) {
    area += upper.area;
    while (level[low].z < upper.z - LEG_END.within) area -= level[low++].area;
    if (area >= least) return level[low].z - LEG_END.rounding;
  }
  return Infinity;
}

/** The height from which something stands on the leg that is none of it, mm; null where nothing does. */
export function standsOnLeg(mesh: Mesh, footLength: number): number | null {
  const end = legEnd(mesh, footLength);
  return bounds(mesh.positions)[5] - end > LEG_END.cap ? end : null;
}
