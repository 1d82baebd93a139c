import type { Side } from '@cast-to-last/foot/side';
import { alignCast } from '../stages/align.js';
import { measureCast } from '../stages/measure.js';
import { readScan } from '../stages/read-scan.js';
import { repairCast } from '../stages/repair.js';
import type { AlignedCast, LengthUnit, MeasuredCast, Scan } from '../records.js';

/** A surface as it was scanned or made: in its foot frame and measured, with nothing smoothed. */
export interface MeasuredSurface {
  readonly scan: Scan;
  readonly aligned: AlignedCast;
  readonly measured: MeasuredCast;
}

/** Scan noise together with texture that is taken for a surface of which nothing is known, mm (standard deviation). */
const UNKNOWN_ROUGHNESS = 0.1;

/**
 * Reads a mesh file of a foot, a cast or a last, stands it in the foot frame and measures it as it is: no mark is looked for.
 *
 * @throws CastError where the file cannot be read or holds nothing that can be measured
 */
export function measureSurface(bytes: Uint8Array, unit: LengthUnit | 'auto', side: Side): MeasuredSurface {
  const scan = readScan(bytes, { unit, kind: 'positive' });
  const aligned = alignCast(repairCast(scan), side, { overrideSide: false, kind: 'positive' });
  const untouched = { mesh: aligned.mesh, moved: new Uint8Array(aligned.mesh.positions.length / 3) };
  return { scan, aligned, measured: measureCast(aligned, untouched, { roughness: UNKNOWN_ROUGHNESS }) };
}
