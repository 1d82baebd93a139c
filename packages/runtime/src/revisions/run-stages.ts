import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { StageName, Step } from '@cast-to-last/pipeline/outcome';
import type { AlignedCast, InspectedCast } from '@cast-to-last/pipeline/records';
import type { StageRecord } from '@cast-to-last/pipeline/report/report';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { keptMarks } from './kept-marks.js';
import type { KeptMarks } from './kept-marks.js';
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

/** What is drawn is in the store of files, and nothing runs after it that could need it. */
const NOT_KEPT: ReadonlySet<StageName> = new Set(['draw-sheet', 'draw-note']);

/** Runs stages, or takes their results from the cache. */
export function runStages({ cache, rules, decisions, begins, ended }: StageHost): StageRun {
  const stages: StageRecord[] = [];
  let marks: KeptMarks | null = null;

  const step: Step = async <T>(name: StageName, key: string, run: () => T | Promise<T>): Promise<T> => {
    begins(name);
    const start = performance.now();
    const ofMarks = name === 'find-marks' ? marks : null;
    const kept = !NOT_KEPT.has(name);
    let result = (kept ? await (ofMarks ?? cache).get(key) : undefined) as T | undefined;
    const cached = result !== undefined;
    if (result === undefined) {
      result = await run();
      if (ofMarks !== null) ofMarks.put(key, result as InspectedCast);
      else if (kept) cache.put(key, result);
    }
    if (name === 'align') marks = keptMarks(cache, result as AlignedCast, key, rules, decisions);
    stages.push({ name, durationMs: Math.round((performance.now() - start) * 1000) / 1000, cached, key });
    await ended(name, result, cached);
    return result;
  };
  return { step, stages };
}
