import { isTaken } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { Finding, Reading } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { readingOf, unread } from './reading.js';

/** The cast's measures against those that the customer took with a tape: differences are notes. */
export function checkTape({ casting, aligned, measured, rules }: CheckContext): CheckPart {
  const taped = casting.tape?.[aligned.side] ?? {};
  const readings: Reading[] = [];
  const findings: Finding[] = [];
  for (const measurement of measured.measurements) {
    const tape = (taped as Readonly<Record<string, number | undefined>>)[measurement.id];
    if (tape === undefined) continue;
    const label = MEASURE_LABELS[measurement.id];
    const named = { id: `tape-${measurement.id}`, label: `${label} against the tape`, unit: '%', wanted: 0 };
    if (!isTaken(measurement)) {
      readings.push(unread(named, measurement.absent));
      continue;
    }
    const value = (100 * (measurement.value - tape)) / tape;
    const reading = readingOf({ ...named, value, uncertainty: (100 * measurement.uncertainty) / tape });
    readings.push(reading);
    if (Math.abs(value) <= rules.tapePercent) continue;
    findings.push({
      code: named.id, severity: 'note', value, limit: rules.tapePercent, unit: '%', uncertainty: reading.uncertainty, at: null,
      text: `The cast's ${label} is ${measurement.value.toFixed(1)} mm, ${Math.abs(value).toFixed(1)} % ${value > 0 ? 'more' : 'less'} than the ${tape} mm that the customer measured; up to ${rules.tapePercent} % is usual. Ask before the last is made.`,
    });
  }
  return { readings, findings };
}
