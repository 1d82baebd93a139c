import type { Decisions } from '@cast-to-last/pipeline/decisions';
import { decide } from '@cast-to-last/pipeline/marks/decide';
import { STAGE_VERSIONS } from '@cast-to-last/pipeline/pipeline';
import type { AlignedCast, InspectedCast, Mark } from '@cast-to-last/pipeline/records';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { stageKey } from '@cast-to-last/pipeline/stage-key';
import type { StageCache } from './stage-cache.js';

/**
 * Which marks there are does not depend on the decisions on them, but the key of find-marks holds both. Where the same
 * marks were found under other decisions, only the decisions are taken anew, and only they are kept beside the first result.
 */
export interface KeptMarks {
  /** Undefined where the marks have to be sought. */
  get(key: string): Promise<InspectedCast | undefined>;
  put(key: string, inspected: InspectedCast): void;
}

/** Marks that were decided anew on what is kept under another key. */
interface Decided {
  readonly base: string;
  readonly marks: readonly Mark[];
}

/** @param alignKey the key of `cast` */
export function keptMarks(cache: StageCache, cast: AlignedCast, alignKey: string, rules: RuleSet, decisions: Decisions): KeptMarks {
  // Under it, the key of a result that holds the marks by these rules: all of them, whichever of them the stage reads.
  const found = stageKey('found-marks', STAGE_VERSIONS['find-marks'], [alignKey], rules);

  const kept = async (key: string): Promise<{ readonly base: string; readonly inspected: InspectedCast } | undefined> => {
    const result = (await cache.get(key)) as InspectedCast | Decided | undefined;
    if (result === undefined || !('base' in result)) return result && { base: key, inspected: result };
    const base = (await cache.get(result.base)) as InspectedCast | undefined;
    return base && { base: result.base, inspected: { ...base, marks: result.marks } };
  };

  return {
    get: async (key) => {
      const same = await kept(key);
      if (same !== undefined) return same.inspected;
      const other = (await cache.get(found)) as string | undefined;
      const known = other === undefined ? undefined : await kept(other);
      if (known === undefined) return undefined;
      const marks = decide(known.inspected.marks, cast, { marks: rules.marks, smoothing: rules.smoothing }, decisions);
      cache.put(key, { base: known.base, marks } satisfies Decided);
      return { ...known.inspected, marks };
    },
    put: (key, inspected) => {
      cache.put(key, inspected);
      cache.put(found, key);
    },
  };
}
