import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import type { CheckRules } from '@cast-to-last/pipeline/rules/check-rules';
import { jsonSha256, sha256 } from '@cast-to-last/pipeline/digest';
import type { SheetHeader } from '@cast-to-last/pipeline/sheet/sheet-content';
import type { ComparedResult } from '@cast-to-last/pipeline/pair/parse-result';
import { readResultFolder } from './result-folder.js';

/** The other cast that a call names with --pair. */
export interface PairOption {
  /** Changes when the other cast does. */
  readonly key: string;
  /** Its measures, to stand beside this cast's on the sheet. */
  readonly other: NonNullable<SheetHeader['other']>;
  /** The outcome with what the comparison found in its cast check. */
  compared(outcome: CastOutcome, rules: CheckRules): Promise<CastOutcome>;
}

/** Reads the other cast's results before the work, so that a folder that cannot be used costs no time. */
export async function readPair(folder: string): Promise<PairOption> {
  const { result, surface: cleaned } = await readResultFolder(folder);
  return {
    other: otherCast(result),
    key: jsonSha256([sha256(cleaned), result]),
    compared: async (outcome, rules) => {
      const { compareCasts } = await import('@cast-to-last/pipeline/pair/compare-casts');
      const { comparedCast } = await import('@cast-to-last/pipeline/pair/parse-result');
      const { withPair } = await import('@cast-to-last/pipeline/pair/with-pair');
      const { measured, aligned, casting, check } = outcome;
      const sides = aligned.side !== result.scan.side;
      const other = comparedCast(sides ? `the ${result.scan.side} cast` : 'the other cast', result, cleaned);
      const own = { name: 'this cast', side: aligned.side, load: casting.load, measurements: measured.measurements, check, mesh: measured.mesh };
      return { ...outcome, check: withPair(check, compareCasts(own, other, rules).findings) };
    },
  };
}

/** The measures of another cast as a sheet sets them beside its own. */
export function otherCast({ scan, measurements }: ComparedResult): NonNullable<SheetHeader['other']> {
  return {
    side: scan.side,
    measurements: measurements.flatMap(({ id, label, on, value, unit, uncertainty = 0, onFilled = 0 }) =>
      on === 'last' || value === undefined || unit === undefined ? [] : [{ id, label, on, value, unit, uncertainty, onFilled }]),
  };
}
