import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import type { CheckRules } from '@cast-to-last/pipeline/check-rules';
import { canonicalJson, sha256 } from '@cast-to-last/pipeline/stage-key';
import { readResultFolder } from './result-folder.js';

/** The other cast that a call names with --pair. */
export interface PairOption {
  /** Changes when the other cast does. */
  readonly key: string;
  /** The outcome with what the comparison found in its cast check. */
  compared(outcome: CastOutcome, rules: CheckRules): Promise<CastOutcome>;
}

/** Reads the other cast's results before the work, so that a folder that cannot be used costs no time. */
export async function readPair(folder: string): Promise<PairOption> {
  const { result, surface: cleaned } = await readResultFolder(folder);
  return {
    key: sha256(canonicalJson([sha256(cleaned), result])),
    compared: async (outcome, rules) => {
      const { compareCasts } = await import('@cast-to-last/pipeline/compare-casts');
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
