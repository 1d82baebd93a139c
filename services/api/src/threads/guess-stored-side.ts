import { guessSide } from '@cast-to-last/pipeline/guess-side';
import type { SideGuess } from '@cast-to-last/pipeline/guess-side';
import type { Step } from '@cast-to-last/pipeline/outcome';
import { readAndRepair } from '@cast-to-last/pipeline/pipeline';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import type { StageCache } from '@cast-to-last/runtime/revisions/stage-cache';
import type { ThreadTasks } from './thread-task.js';

/** Which foot a stored scan shows. What the stages make on the way is kept for the cast that follows. Throws CastError. */
export async function guessStoredSide(artifacts: Artifacts, cache: StageCache, { sha256, kind, unit }: ThreadTasks['guess-side']['task']): Promise<SideGuess> {
  const step: Step = async <T>(_name: string, key: string, run: () => T | Promise<T>): Promise<T> => {
    const kept = (await cache.get(key)) as T | undefined;
    if (kept !== undefined) return kept;
    const result = await run();
    cache.put(key, result);
    return result;
  };
  const { repaired } = await readAndRepair({ bytes: await artifacts.bytes(sha256), kind, unit }, step);
  return guessSide(repaired, kind);
}
