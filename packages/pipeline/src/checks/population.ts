import type { MeasureId, Measurement } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS, isTaken } from '@cast-to-last/foot/measures';
import { ANSUR2, ANSUR2_RATIOS } from '@cast-to-last/foot/published/ansur2';
import type { Finding, Reading } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { readingOf, unread } from './reading.js';

/** Standard deviations within which 98 of 100 lie, as between P1 and P99. */
const WITHIN_SD = 2.33;

/** What the survey took, and which of the cast's measures are the same. */
const MEASURES = [
  ['foot-length', 'footLength'],
  ['ball-girth', 'ballGirth'],
  ['foot-breadth', 'breadth'],
  ['heel-width', 'heelBreadth'],
] as const;

const RATIOS = [
  ['medial-ball-length', 'foot-length', 'medialBallLengthToFL'],
  ['foot-breadth', 'foot-length', 'breadthToFL'],
  ['ball-girth', 'foot-length', 'ballGirthToFL'],
  ['heel-width', 'foot-length', 'heelBreadthToFL'],
  ['ball-girth', 'foot-breadth', 'ballGirthToBreadth'],
] as const;

const SURVEY = 'in ANSUR II, a survey of soldiers who stood on both feet';

/** The cast's measures and their ratios against a population, men and women together: what lies outside is a note. */
export function checkPopulation({ measured: { measurements } }: CheckContext): CheckPart {
  const readings: Reading[] = [];
  const findings: Finding[] = [];
  for (const [id, key] of MEASURES) {
    const { men, women } = ANSUR2;
    const range = [Math.min(men[key].p1, women[key].p1), Math.max(men[key].p99, women[key].p99)] as const;
    weighRange({ id: `population-${id}`, label: MEASURE_LABELS[id], unit: 'mm', decimals: 0 }, valueOf(measurements, id), range, readings, findings);
  }
  for (const [over, under, key] of RATIOS) {
    const spreads = [ANSUR2_RATIOS.men[key], ANSUR2_RATIOS.women[key]];
    const range = [Math.min(...spreads.map((s) => s.mean - WITHIN_SD * s.sd)), Math.max(...spreads.map((s) => s.mean + WITHIN_SD * s.sd))] as const;
    const a = valueOf(measurements, over);
    const b = valueOf(measurements, under);
    const ratio = a === null || b === null ? null : { value: a.value / b.value, uncertainty: (a.value / b.value) * Math.hypot(a.uncertainty / a.value, b.uncertainty / b.value) };
    const label = `${MEASURE_LABELS[over]} / ${MEASURE_LABELS[under]}`;
    weighRange({ id: `population-${over}-to-${under}`, label, unit: '', decimals: 3 }, ratio, range, readings, findings);
  }
  return { readings, findings };
}

interface Valued {
  readonly value: number;
  readonly uncertainty: number;
}

function valueOf(measurements: readonly Measurement[], id: MeasureId): Valued | null {
  const found = measurements.find((m) => m.id === id);
  return found !== undefined && isTaken(found) ? found : null;
}

/** Adds the reading, and a note where it lies outside. */
function weighRange(
  { id, label, unit, decimals }: { id: string; label: string; unit: string; decimals: number },
  read: Valued | null,
  [low, high]: readonly [number, number],
  readings: Reading[],
  findings: Finding[],
): void {
  const named = { id, label: `${label} in the population`, unit };
  if (read === null) {
    readings.push(unread(named, 'The measure could not be taken.'));
    return;
  }
  readings.push(readingOf({ ...named, value: read.value, uncertainty: read.uncertainty }));
  if (read.value >= low && read.value <= high) return;
  const limit = read.value < low ? low : high;
  findings.push({
    code: id, severity: 'note', value: read.value, limit, unit, uncertainty: read.uncertainty, at: null,
    text: `The ${label} of ${read.value.toFixed(decimals)}${unit === '' ? '' : ` ${unit}`} lies outside what 98 of 100 people have ${SURVEY}: ${low.toFixed(decimals)} to ${high.toFixed(decimals)}. Feet differ; look whether the cast is to blame.`,
  });
}
