import type { SheetReport } from './sheet-report.js';
import { jsonSha256 } from '../digest.js';

/** Hexadecimal digits of a fingerprint: enough for any workshop's records, short enough to be read aloud. */
const DIGITS = 16;

/**
 * What tells this cast and last from every other: the same for the same scan, rules and decisions, whoever ran the program
 * and however long it took.
 */
export function recordFingerprint({ scan, rules, measurements, marks, last }: SheetReport): string {
  const said = {
    scan: [scan.sha256, scan.side, scan.kind, scan.unit],
    rules: rules.sha256,
    measures: measurements.map((m) => [m.id, m.on, 'value' in m ? m.value : null]),
    marks: marks.map((m) => [m.id, m.decision]),
    last: [last.triangles, last.volume],
  };
  return jsonSha256(said).slice(0, DIGITS);
}
