import { coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { compose, identity, transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import { settleFrame } from '@cast-to-last/foot/frame';
import type { Point } from '@cast-to-last/foot/landmarks';
import { withOffsetEffect } from '@cast-to-last/foot/offset-effect';
import { takeMeasures } from '@cast-to-last/foot/take-measures';
import { CastError } from '../errors.js';
import type { MarkedCast } from '../marks/undecided.js';
import { undecidedEffect } from '../marks/undecided.js';
import type { AlignedCast, MeasuredCast, SmoothedCast } from '../records.js';
import { ALIGN, wholeTo } from './align.js';

/**
 * Settles the foot frame on the cleaned surface and takes every measure of it. Marks moved the points that the first
 * frame rested on; the report's frame and measures are those of the cleaned cast.
 *
 * @param offsetUncertainty how far the whole surface may lie off along its normal, as ShelledCast has it
 */
export function measureCast(aligned: AlignedCast, smoothed: Pick<SmoothedCast, 'mesh' | 'moved'>, inspected: MarkedCast | Pick<MarkedCast, 'roughness'>, offsetUncertainty = 0): MeasuredCast {
  const felt = feltSurface(smoothed.mesh, aligned.filled);
  // First at the spacing of the pose, where a round costs little; then on the whole surface, where few rounds are left.
  const { mesh: coarse } = coarsen(felt.mesh, ALIGN.spacing, rememberedNeighbours(felt.mesh));
  const near = settleFrame(coarse, twins(coarse), aligned.side, identity())?.transform ?? identity();
  const settle = settleFrame(felt.mesh, felt.twin, aligned.side, near)?.transform ?? near;
  const mesh = transformMesh(settle, smoothed.mesh);
  const standing = { ...felt, mesh: transformMesh(settle, felt.mesh) };
  const options = { side: aligned.side, on: 'cast', roughness: inspected.roughness / 2, wholeTo: wholeTo(mesh, aligned.opening) } as const;
  const taken = takeMeasures(standing, options);
  if (taken === null) {
    throw new CastError('cannot-measure', 'The heel or the ball of this cast could not be found.', 'Check that the scan holds the whole foot, and scan it again.');
  }
  const undecided = 'marks' in inspected ? undecidedEffect(taken.measurements, inspected, aligned.filled, settle, options) : null;
  const known = undecided?.measurements ?? taken.measurements;
  const measurements = offsetUncertainty > 0 ? withOffsetEffect(known, standing, options, offsetUncertainty) : known;
  return {
    mesh, transform: compose(settle, aligned.transform), settle, landmarks: taken.landmarks, measurements,
    ...(undecided !== null && { medialBallSmoothed: moved(taken.landmarks.medialBall, undecided.medialBallMoves) }),
  };
}

const moved = ([x, y, z]: Point, by: Point): Point => [x + by[0], y + by[1], z + by[2]];
