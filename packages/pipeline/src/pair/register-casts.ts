import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Registration } from '@cast-to-last/geometry/distance/register';
import { register } from '@cast-to-last/geometry/distance/register';
import { sampleSurface } from '@cast-to-last/geometry/remeshing/sample-surface';
import type { SurfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { Side } from '@cast-to-last/foot/side';
import { CastError } from '../errors.js';

export const REGISTER_CASTS = {
  /** Points of the foot that are laid on the other. */
  samples: 12_000,
  /** Height up to which casts are laid on each other, as a share of foot length: above the ankle bones the leg's lean would steer. */
  ceiling: 0.27,
} as const;

export interface RegisteredCasts {
  /** The first cast, mirrored where the sides differ, laid on the second: in the second's foot frame. */
  readonly mesh: Mesh;
  readonly mirrored: boolean;
  readonly registration: Registration;
}

/** The foot of the other side: y → −y, triangles turned so that they still face outward. */
export function mirrored({ positions, triangles }: Mesh): Mesh {
  const turned = triangles.slice();
  for (let t = 0; t < turned.length; t += 3) [turned[t + 1], turned[t + 2]] = [turned[t + 2], turned[t + 1]];
  return { positions: positions.map((c, i) => (i % 3 === 1 ? -c : c)), triangles: turned };
}

/**
 * Lays the first cast on the second, beginning where both foot frames agree. Only the foot steers, not the leg, and of the
 * foot only what is alike.
 *
 * @throws CastError `casts-do-not-meet`
 */
export function registerCasts(first: { readonly mesh: Mesh; readonly side: Side }, second: SurfaceTarget, side: Side, footLength: number): RegisteredCasts {
  const turned = first.side !== side;
  const moving = turned ? mirrored(first.mesh) : first.mesh;
  const samples = sampleSurface(moving, Math.ceil(1.6 * REGISTER_CASTS.samples));
  const low = (_: number, i: number): boolean => samples.points[i - (i % 3) + 2] <= REGISTER_CASTS.ceiling * footLength;
  const registration = register({ points: samples.points.filter(low), normals: samples.normals.filter(low), area: samples.area }, second);
  if (registration === null) {
    throw new CastError('casts-do-not-meet', 'The two casts could not be laid on each other.', 'Check that both folders hold results of this program, and that their cleaned.stl is theirs.');
  }
  return { mesh: transformMesh(registration.transform, moving), mirrored: turned, registration };
}
