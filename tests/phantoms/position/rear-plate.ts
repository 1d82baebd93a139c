import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import type { PositionReadings } from './reference-readings.js';

/** How the bed's rear plate, level where the foot was drawn, stands in the foot frame of a right foot. Degrees. */
export interface RearPlate {
  /** Rising to the toes positive. */
  readonly pitchDeg: number;
  /** Rising to the inner side positive. */
  readonly rollDeg: number;
}

const DEGREE = Math.PI / 180;

/** @param toFoot from where the foot was drawn to the foot frame */
export function rearPlate(toFoot: Transform): RearPlate {
  const [x, y, z] = [toFoot[2], toFoot[6], toFoot[10]];
  return { pitchDeg: Math.atan(-x / z) / DEGREE, rollDeg: Math.atan(-y / z) / DEGREE };
}

type Leans = Pick<PositionReadings, 'leanInFrameDeg' | 'rearViewDeg'>;

/** The leans against the rear plate: what a cast with a tilted heel rests on is not what the foot stood on. */
export function offTheRearPlate({ leanInFrameDeg, rearViewDeg }: Leans, plate: RearPlate): Leans {
  return {
    leanInFrameDeg: leanInFrameDeg === null ? null : leanInFrameDeg + plate.pitchDeg,
    rearViewDeg: rearViewDeg === null ? null : rearViewDeg + plate.rollDeg,
  };
}
