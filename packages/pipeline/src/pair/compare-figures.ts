import type { CheckRules } from '../rules/check-rules.js';
import type { Reading } from '../records.js';
import type { ReportedMeasurement } from '../report/report.js';
import type { ComparedCast, ComparedFigure } from './compared-cast.js';

type PairRules = CheckRules['pair'];

/** Which limit of the rules a measure's difference is held against; breadths and heights have none. */
const MEASURE_LIMITS: Readonly<Record<string, keyof PairRules>> = {
  'foot-length': 'lengthMm',
  'medial-ball-length': 'lengthMm',
  'ball-girth': 'girthMm',
  'waist-girth': 'girthMm',
  'instep-girth': 'girthMm',
  'short-heel-girth': 'girthMm',
  'long-heel-girth': 'girthMm',
  'ankle-girth': 'girthMm',
};

/** Readings that are compared, and their limits. Signs are by inner and outer side, so that both feet have the same. */
const READING_LIMITS: Readonly<Record<string, keyof PairRules | null>> = {
  'sole-bend': 'pitchDeg',
  'heel-pitch': null,
  'toe-pitch': null,
  'heel-on-plate': 'pitchDeg',
  'forefoot-twist': 'pitchDeg',
  'forward-lean': 'leanDeg',
  'rear-view': 'leanDeg',
  'ball-on-hinge': null,
  'toe-box': null,
};

interface Valued {
  readonly value: number;
  readonly uncertainty: number;
}

function compared(
  { id, label, unit }: { readonly id: string; readonly label: string; readonly unit: string }, first: Valued, second: Valued, expected: number, limit: number | null,
): ComparedFigure {
  const difference = first.value - second.value;
  return {
    id, label, unit, first: first.value, second: second.value, difference, uncertainty: Math.hypot(first.uncertainty, second.uncertainty), expected, limit,
    beyond: limit !== null && Math.abs(difference - expected) > limit,
  };
}

/** The measures that both casts have. */
export function compareMeasures(first: ComparedCast, second: ComparedCast, rules: PairRules): ComparedFigure[] {
  const taken = (m: ReportedMeasurement): m is Extract<ReportedMeasurement, { value: number }> => 'value' in m;
  return first.measurements.filter(taken).flatMap((a) => {
    const b = second.measurements.filter(taken).find((m) => m.id === a.id);
    const limit = MEASURE_LIMITS[a.id];
    return b === undefined ? [] : [compared(a, a, b, 0, limit === undefined ? null : rules[limit])];
  });
}

/** The readings of position that both casts have. */
export function compareReadings(first: ComparedCast, second: ComparedCast, rules: PairRules): ComparedFigure[] {
  const valued = (r: Reading | undefined): Valued | null => (r === undefined || r.value === null ? null : { value: r.value, uncertainty: r.uncertainty ?? 0 });
  return first.check.readings.flatMap((reading) => {
    const limit = READING_LIMITS[reading.id];
    const other = second.check.readings.find((r) => r.id === reading.id);
    const a = valued(reading);
    const b = valued(other);
    if (limit === undefined || a === null || b === null) return [];
    const wanted = reading.wanted;
    const otherWanted = other?.wanted ?? null;
    const expected = wanted === null || otherWanted === null ? 0 : wanted - otherWanted;
    return [compared(reading, a, b, expected, limit === null ? null : rules[limit])];
  });
}
