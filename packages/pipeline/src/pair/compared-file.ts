import type { Side } from '@cast-to-last/foot/side';
import { measureSurface } from './measure-surface.js';
import type { LengthUnit } from '../records.js';
import { reportMeasurement } from '../report/report.js';
import { sha256 } from '../digest.js';
import type { ComparedCast } from './compared-cast.js';
import type { ComparedScan } from './comparison-report.js';

/** A mesh file ready to be compared, as it is: nothing in it is smoothed or checked. */
export interface ComparedFile {
  readonly cast: ComparedCast;
  readonly scan: ComparedScan;
}

/**
 * @param name how sentences call it
 * @throws CastError where the file cannot be read or measured
 */
export function comparedFile(name: string, bytes: Uint8Array, { fileName, unit, side }: { readonly fileName: string; readonly unit: LengthUnit | 'auto'; readonly side: Side }): ComparedFile {
  const { measured } = measureSurface(bytes, unit, side);
  return {
    cast: { name, side, load: undefined, measurements: measured.measurements.map(reportMeasurement), check: { verdict: 'usable', findings: [], readings: [] }, mesh: measured.mesh },
    scan: { file: fileName, sha256: sha256(bytes), of: 'file', kind: null, side, load: null, verdict: null },
  };
}
