import { mirrorLandmarks, mirrorMesh } from '../surface/mirror-mesh.js';
import type { CastTruth } from '../truth.js';
import { offTheRearPlate } from './rear-plate.js';
import { positionReadings, type PositionReadings } from './reference-readings.js';

export interface PositionTruth extends PositionReadings {
  /** What the reference reads off the sole's contact planes, where bend and hinge here are those of the plates. */
  readonly contact: Pick<PositionReadings, 'bendDeg' | 'hingeMm'>;
  /** Bandage ahead of the longest toe's tip, along X, mm. */
  readonly beyondToesMm: number;
  /** Foot length without it, mm. */
  readonly footLengthMm: number;
}

/** Plates bent by less show no crease, degrees. */
const LEAST_BEND_DEG = 4;

/** What a placed phantom's clean surface reads, by the definitions of the cast check; bend, hinge and a planted heel against the plates. Throws for a phantom that was not placed. */
export function positionTruth({ side, clean, landmarks, placed }: CastTruth): PositionTruth {
  if (placed === undefined) throw new Error('this phantom has no position');
  const left = side === 'left';
  const readings = positionReadings(
    left ? mirrorMesh(clean) : clean,
    left ? mirrorLandmarks(landmarks, ([x, y, z]) => [x, -y, z]) : landmarks,
    { top: placed.wholeTo, toeEnd: placed.toeEnd, hingeMm: placed.position.hingeMm ?? 0 },
  );
  const { plants, hingeMm, position, rearPlate } = placed;
  return {
    ...readings,
    ...(position.heelOnPlateDeg === undefined ? {} : { ...offTheRearPlate(readings, rearPlate), heelOnPlateDeg: plants.heelDeg }),
    contact: { bendDeg: readings.bendDeg, hingeMm: readings.hingeMm },
    bendDeg: plants.bendDeg,
    hingeMm: plants.bendDeg < LEAST_BEND_DEG ? null : hingeMm,
    beyondToesMm: landmarks.footLength - placed.toeEnd,
    footLengthMm: placed.toeEnd,
  };
}
