import type { Decisions } from '@cast-to-last/pipeline/decisions';
import { decide } from '@cast-to-last/pipeline/marks/decide';
import type { StageName, Step } from '@cast-to-last/pipeline/outcome';
import { STAGE_VERSIONS } from '@cast-to-last/pipeline/pipeline';
import type { AlignedCast, InspectedCast } from '@cast-to-last/pipeline/records';
import type { StageRecord } from '@cast-to-last/pipeline/report';
import type { RuleSet } from '@cast-to-last/pipeline/rules';
import { stageKey } from '@cast-to-last/pipeline/stage-key';
import type { StageCache } from './stage-cache.js';

export interface StageHost {
  readonly cache: StageCache;
  readonly rules: RuleSet;
  readonly decisions: Decisions;
  /** Called before a stage runs. */
  begins(name: StageName): void;
  /** Called after it, in the order of the work, and waited for. */
  ended(name: StageName, result: unknown, cached: boolean): Promise<void>;
}

export interface StageRun {
  readonly step: Step;
  readonly stages: StageRecord[];
}

/** Bytes that a stage draws are in the store of files; nothing runs after it that could need them. */
const NOT_KEPT: ReadonlySet<StageName> = new Set(['draw-sheet', 'draw-note']);

/**
 * Runs stages, or takes their results from the cache. Which marks there are does not depend on the decisions on them, but
 * the key of find-marks holds both: where the same marks were found under other decisions, only the decisions are taken anew.
 */
export function runStages({ cache, rules, decisions, begins, ended }: StageHost): StageRun {
  const stages: StageRecord[] = [];
  let aligned: { readonly key: string; readonly cast: AlignedCast } | null = null;

  const found = (): string => stageKey('found-marks', STAGE_VERSIONS['find-marks'], [aligned?.key ?? ''], rules);
  const decidedAnew = async (): Promise<InspectedCast | undefined> => {
    if (aligned === null) return undefined;
    const known = (await cache.get(found())) as InspectedCast | undefined;
    if (known === undefined) return undefined;
    const { cast } = aligned;
    return { ...known, marks: decide(known.marks, cast, { marks: rules.marks, smoothing: rules.smoothing }, decisions) };
  };

  const step: Step = async <T>(name: StageName, key: string, run: () => T | Promise<T>): Promise<T> => {
    begins(name);
    const start = performance.now();
    const kept = !NOT_KEPT.has(name);
    let result = (kept ? await (name === 'find-marks' ? decidedAnew() : cache.get(key)) : undefined) as T | undefined;
    const cached = result !== undefined;
    if (result === undefined) {
      result = await run();
      if (kept) cache.put(name === 'find-marks' ? found() : key, result);
    }
    if (name === 'align') aligned = { key, cast: result as AlignedCast };
    stages.push({ name, durationMs: Math.round((performance.now() - start) * 1000) / 1000, cached, key });
    await ended(name, result, cached);
    return result;
  };
  return { step, stages };
}
