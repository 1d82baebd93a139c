import type { Point } from '@cast-to-last/foot/landmarks';
import type { TakeOptions } from '@cast-to-last/foot/measure-taker';
import type { Measurement } from '@cast-to-last/foot/measures';
import { isTaken } from '@cast-to-last/foot/measures';
import { measureStanding } from '@cast-to-last/foot/measure-standing';
import { cellsWith } from '@cast-to-last/geometry/remeshing/coarsen';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { invertRigid, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { InspectedCast } from '../records.js';
import type { InspectionSurface } from './inspection-surface.js';
import { withoutMarks } from './without-marks.js';

export type MarkedCast = Pick<InspectedCast, 'marks' | 'surface' | 'roughness'>;

/** The difference that smoothing the marks which wait for the maker's decision would make. */
export interface UndecidedEffect {
  /** The measures with that difference added to their uncertainty. */
  readonly measurements: readonly Measurement[];
  /** By how much the inside of the ball would move, settled foot frame, mm. */
  readonly medialBallMoves: Point;
}

/**
 * A mark that waits for the maker is a fault of the plaster or the foot's own form. So each measure may be as it was taken or
 * as it is without those marks, and both are measured on the inspection surface.
 *
 * @param filled one byte a vertex of the cast: 1 where repair made it
 * @param settle from the frame of the inspection surface to the settled one
 * @returns null where no mark waits, or where without them there is no foot to measure
 */
export function undecidedEffect(
  measurements: readonly Measurement[], { marks, surface }: MarkedCast, filled: Uint8Array, settle: Transform, options: TakeOptions,
): UndecidedEffect | null {
  const smoothed = marks.filter(({ decision }) => decision === 'smooth');
  const asked = marks.filter(({ decision }) => decision === 'ask');
  if (asked.length === 0) return null;
  const made = cellsWith(filled, surface.cellOf, surface.areas.length);
  const [now, then] = [smoothed, [...smoothed, ...asked]].map((gone) => measured(withoutMarks(surface, gone, marks), made, settle, options));
  if (now === null || then === null) return null;
  const [x, y, z] = then.medialBall.map((c, k) => c - now.medialBall[k]);
  return { measurements: measurements.map((m) => widened(m, now.measurements, then.measurements)), medialBallMoves: [x, y, z] };
}

interface Measured {
  readonly measurements: readonly Measurement[];
  /** Settled foot frame of the cast. */
  readonly medialBall: Point;
}

function measured({ mesh, twin }: InspectionSurface, filled: Uint8Array, settle: Transform, options: TakeOptions): Measured | null {
  const taken = measureStanding({ mesh: transformMesh(settle, mesh), twin, filled }, options);
  if (taken === null) return null;
  const [x, y, z] = transformPositions(invertRigid(taken.settle), Float64Array.from(taken.landmarks.medialBall));
  return { measurements: taken.measurements, medialBall: [x, y, z] };
}

function widened(measurement: Measurement, now: readonly Measurement[], then: readonly Measurement[]): Measurement {
  if (!isTaken(measurement)) return measurement;
  const [before, after] = [now, then].map((taken) => taken.find(({ id }) => id === measurement.id));
  if (before === undefined || after === undefined || !isTaken(before) || !isTaken(after)) return measurement;
  return { ...measurement, uncertainty: Math.hypot(measurement.uncertainty, after.value - before.value) };
}
