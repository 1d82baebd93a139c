import { setTimeout as wait } from 'node:timers/promises';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { Log } from '../log.js';
import type { JobProgress, StoredFile } from '../records/json-types.js';
import type { JobRow, Jobs } from './jobs.js';
import { beatEvery } from './reconcile.js';
import { WorkerDied } from './runner.js';
import type { Work } from './runner.js';

type StopReason = 'cancelled' | 'lost' | 'drained';

/** How often progress is written, at most. */
const PROGRESS_EVERY_MS = 200;

/** Waits before an end that could not be written is written again, ms: a disk may be full only while another file is given up. */
const SETTLE_AGAIN_MS = [100, 500, 2000, 5000] as const;

/**
 * Does one claimed job to its end, whatever that is: renews its lease, tells how far it is, stops it where asked, and
 * settles it. Never throws. `drain` is aborted where the process has to end.
 */
export async function runJob(jobs: Jobs, work: Work, job: JobRow, { leaseMs, drain, log }: { leaseMs: number; drain: AbortSignal; log: Log }): Promise<void> {
  const stop = new AbortController();
  const line = log.child({ job: job.id, subject: job.subjectId });
  let news: { progress?: JobProgress; preview?: readonly StoredFile[] } = {};
  let stage: string | null = null;

  const say = async (): Promise<void> => {
    const saying = news;
    news = {};
    try {
      const answer = await jobs.beat(job, saying);
      if (answer !== 'go-on') stop.abort((answer === 'cancel' ? 'cancelled' : 'lost') satisfies StopReason);
    } catch (error) {
      line.warn({ err: error }, 'the lease could not be renewed');
    }
  };
  let said: Promise<void> = Promise.resolve();
  const sayNext = (): void => void (said = said.then(say));
  const beating = setInterval(sayNext, beatEvery(leaseMs));
  const telling = setInterval(() => {
    if (news.progress !== undefined || news.preview !== undefined) sayNext();
  }, PROGRESS_EVERY_MS);
  const onDrain = (): void => stop.abort('drained' satisfies StopReason);
  drain.addEventListener('abort', onDrain, { once: true });

  const start = performance.now();
  try {
    const result = await attempt();
    clearInterval(telling);
    await said;
    // Asked now: while its end is being written the job is still this worker's, and its lease goes on.
    const reason = stop.signal.aborted ? (stop.signal.reason as StopReason) : null;
    for (let tries = 0; ; tries++) {
      try {
        await settle(result, reason);
        break;
      } catch (error) {
        if (tries === SETTLE_AGAIN_MS.length) throw error;
        line.warn({ err: error }, 'the end of a job could not be written; it is tried again');
        await wait(SETTLE_AGAIN_MS[tries]);
      }
    }
  } catch (error) {
    line.error({ err: error }, 'a job could not be settled; it is given to a worker again when its lease runs out');
  } finally {
    clearInterval(beating);
    clearInterval(telling);
    await said;
    drain.removeEventListener('abort', onDrain);
  }

  async function attempt(): Promise<{ result: unknown } | { error: unknown }> {
    try {
      const result = await work(job, {
        signal: stop.signal,
        progress: (progress) => {
          stage = progress.stage;
          news = { ...news, progress };
        },
        // Someone waits for it.
        preview: (preview) => {
          news = { ...news, preview };
          sayNext();
        },
      });
      return { result };
    } catch (error) {
      return { error };
    }
  }

  async function settle(ended: { result: unknown } | { error: unknown }, reason: StopReason | null): Promise<void> {
    if ('result' in ended) {
      const ours = await jobs.finish(job, { state: 'done', result: ended.result });
      line.info({ durationMs: Math.round(performance.now() - start), ours }, 'a job is done');
      return;
    }
    const { error } = ended;
    if (reason === 'lost') return;
    if (reason === 'cancelled') await jobs.finish(job, { state: 'cancelled' });
    else if (reason === 'drained') await jobs.sendBack(job, { what: 'drained', stage, text: 'The program was asked to stop.' });
    else if (error instanceof CastError) await jobs.finish(job, { state: 'refused', refusal: { code: error.code, message: error.message, remedy: error.remedy } });
    else if (error instanceof WorkerDied) await jobs.sendBack(job, { what: error.what, stage, text: error.message });
    else {
      line.error({ err: error, stage }, 'a job ended by a fault');
      await jobs.sendBack(job, { what: 'fault', stage, text: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    }
  }
}
