import type { JobsConfig } from '../config.js';
import type { Log } from '../log.js';
import type { Jobs } from './jobs.js';
import { runJob } from './run-job.js';
import type { Runner, Work } from './runner.js';
import { endWithin } from './end-within.js';

export interface RunnerOptions {
  readonly jobs: Jobs;
  readonly work: Work;
  readonly config: JobsConfig;
  readonly log: Log;
  /** Named in the rows and the story of a job. */
  readonly worker: string;
  /** Jobs at a time. */
  readonly slots: number;
}

/** Runs jobs in this process: whenever there may be one to do, as many as there are slots. */
export function openLocalRunner({ jobs, work, config, log, worker, slots }: RunnerOptions): Runner {
  const running = new Set<Promise<void>>();
  const drain = new AbortController();
  const timers = new Set<NodeJS.Timeout>();
  let claiming = false;
  let again = false;
  let open = false;

  const pump = async (): Promise<void> => {
    again = true;
    if (claiming) return;
    claiming = true;
    try {
      while (again && open) {
        again = false;
        while (open && running.size < slots) {
          const job = await jobs.claim(worker);
          if (job === null) break;
          const done = runJob(jobs, work, job, { leaseMs: config.leaseMs, drain: drain.signal, log }).finally(() => {
            running.delete(done);
            void pump();
          });
          running.add(done);
        }
      }
    } catch (error) {
      log.error({ err: error }, 'no job could be claimed');
    } finally {
      claiming = false;
    }
  };
  const onWaiting: Parameters<typeof jobs.events.on<'waiting'>>[1] = (tickets) => {
    if (tickets.length === 0) return;
    const delayMs = Math.min(...tickets.map((ticket) => ticket.delayMs));
    if (delayMs === 0) void pump();
    const later = tickets.filter((ticket) => ticket.delayMs > 0).map((ticket) => ticket.delayMs);
    if (later.length === 0) return;
    const timer = setTimeout(() => {
      timers.delete(timer);
      void pump();
    }, Math.min(...later) + 1);
    timers.add(timer);
  };
  const look = setInterval(() => {
    jobs.reconcile().catch((error: unknown) => log.error({ err: error }, 'the jobs could not be looked through'));
  }, config.reconcileMs);

  return {
    start: async () => {
      open = true;
      jobs.events.on('waiting', onWaiting);
      await jobs.reconcile();
    },
    health: async () => undefined,
    running: () => running.size,
    close: async () => {
      open = false;
      jobs.events.off('waiting', onWaiting);
      clearInterval(look);
      for (const timer of timers) clearTimeout(timer);
      await endWithin(running, config.drainMs, () => drain.abort());
    },
  };
}
