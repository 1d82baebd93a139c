import { surfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CheckRules } from '../rules/check-rules.js';
import { compareMeasures, compareReadings } from './compare-figures.js';
import type { ComparedCast, ComparedFigure } from './compared-cast.js';
import type { DeviationMap } from './deviation-map.js';
import { deviationMap } from './deviation-map.js';
import type { PairFinding } from './pair-findings.js';
import { pairFindings } from './pair-findings.js';
import { registerCasts } from './register-casts.js';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';

/** Two casts of one customer beside each other: the other foot, or the same foot at another time. */
export interface CastComparison {
  readonly relation: 'other-side' | 'same-side';
  readonly measures: readonly ComparedFigure[];
  readonly readings: readonly ComparedFigure[];
  readonly findings: readonly PairFinding[];
  readonly registration: {
    /** Foot frame of the first cast (mirrored where `mirrored`) → foot frame of the second. */
    readonly transform: Transform;
    readonly mirrored: boolean;
    /** Of the parts that are alike, mm. */
    readonly rms: number;
    /** Share of the foot that is alike enough to have steered. */
    readonly usedShare: number;
  };
  /** The first cast laid on the second, in the second's foot frame. */
  readonly laid: Mesh;
  readonly map: DeviationMap;
}

/**
 * Compares two casts of one customer. Pure: the same casts give the same comparison.
 *
 * @throws CastError `casts-do-not-meet`
 */
export function compareCasts(first: ComparedCast, second: ComparedCast, rules: CheckRules): CastComparison {
  const target = surfaceTarget(second.mesh);
  const footLength = lengthOf(second);
  const { mesh, mirrored, registration } = registerCasts(first, target, second.side, footLength);
  const measures = compareMeasures(first, second, rules.pair);
  const readings = compareReadings(first, second, rules.pair);
  return {
    relation: mirrored ? 'other-side' : 'same-side',
    measures,
    readings,
    findings: pairFindings([...measures, ...readings], first, second),
    registration: { transform: registration.transform, mirrored, rms: registration.rms, usedShare: registration.usedShare },
    laid: mesh,
    map: deviationMap(mesh, target, footLength),
  };
}

/** As measured; where the length is absent, the extent along the foot. */
function lengthOf({ measurements, mesh }: ComparedCast): number {
  const length = measurements.find((m) => m.id === 'foot-length');
  if (length !== undefined && 'value' in length) return length.value;
  const box = bounds(mesh.positions);
  return box[3] - box[0];
}
