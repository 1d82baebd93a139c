import { setTimeout as wait } from 'node:timers/promises';
import { Queue, Worker } from 'bullmq';
import { Redis } from 'ioredis';
import type { Ticket } from './reconcile.js';
import { endWithin } from './end-within.js';
import type { RunnerOptions } from './local-runner.js';
import { runJob } from './run-job.js';
import type { Runner } from './runner.js';

/** The longest that a queue is waited for when the program ends. */
const GOODBYE_MS = 3000;

export interface BullRunnerOptions extends RunnerOptions {
  readonly redisUrl: string;
  /** Names the queue; services that share a Redis server differ in it. */
  readonly queue?: string;
}

/**
 * Hands jobs over through BullMQ, and takes them from it once started. What is in the queue are tickets: a ticket holds a
 * job's id and says that there is work; which job is next the rows say. A ticket that is lost is written again at the next
 * look, one that comes twice finds nothing to do.
 */
export function openBullRunner({ jobs, work, config, log, worker, slots, redisUrl, queue: name = 'cast-to-last' }: BullRunnerOptions): Runner {
  const connect = (options: { maxRetriesPerRequest: number | null }): Redis => {
    const redis = new Redis(redisUrl, options);
    redis.on('error', (error) => log.warn({ err: error }, 'the queue does not answer'));
    return redis;
  };
  const producing = connect({ maxRetriesPerRequest: 1 });
  const queue = new Queue(name, { connection: producing });
  queue.on('error', (error) => log.warn({ err: error }, 'the queue does not answer'));
  const drain = new AbortController();
  const running = new Set<Promise<void>>();
  let consuming: { worker: Worker; redis: Redis } | null = null;

  const hand = async (tickets: readonly Ticket[]): Promise<void> => {
    if (tickets.length === 0) return;
    await queue.addBulk(tickets.map(({ id, turns, priority }) => ({
      name: 'job', data: { id }, opts: { jobId: `job-${id}-${turns}`, priority, removeOnComplete: true, removeOnFail: true },
    })));
  };
  const timers = new Set<NodeJS.Timeout>();
  const onWaiting = (tickets: readonly Ticket[]): void => {
    hand(tickets.filter(({ delayMs }) => delayMs === 0)).catch((error: unknown) => log.warn({ err: error, jobs: tickets.length }, 'jobs were not handed over; the next look does so'));
    // The queue would wait by the clock, which can be set.
    for (const ticket of tickets) {
      if (ticket.delayMs === 0) continue;
      const timer = setTimeout(() => {
        timers.delete(timer);
        onWaiting([{ ...ticket, delayMs: 0 }]);
      }, ticket.delayMs + 1);
      timers.add(timer);
    }
  };
  jobs.events.on('waiting', onWaiting);
  const look = setInterval(() => {
    jobs.reconcile().catch((error: unknown) => log.error({ err: error }, 'the jobs could not be looked through'));
  }, config.reconcileMs);

  let open = true;

  const takeOne = async (): Promise<void> => {
    if (!open) return;
    const job = await jobs.claim(worker);
    if (job === null) return;
    const done = runJob(jobs, work, job, { leaseMs: config.leaseMs, drain: drain.signal, log });
    running.add(done);
    await done.finally(() => running.delete(done));
  };

  return {
    start: async () => {
      const redis = connect({ maxRetriesPerRequest: null });
      consuming = { worker: new Worker(name, takeOne, { connection: redis, concurrency: slots }), redis };
      consuming.worker.on('error', (error) => log.warn({ err: error }, 'the queue does not answer'));
      await consuming.worker.waitUntilReady();
      await jobs.reconcile();
    },
    health: async () => {
      await producing.ping();
    },
    running: () => running.size,
    close: async () => {
      open = false;
      clearInterval(look);
      for (const timer of timers) clearTimeout(timer);
      await consuming?.worker.pause(true);
      await endWithin(running, config.drainMs, () => drain.abort());
      // Where the queue is gone there is nobody to say goodbye to.
      if (consuming !== null) await within(GOODBYE_MS, consuming.worker.close(consuming.redis.status !== 'ready'));
      jobs.events.off('waiting', onWaiting);
      await within(GOODBYE_MS, queue.close());
      consuming?.redis.disconnect();
      producing.disconnect();
    },
  };
}

/** Waits for something, but not longer than so. */
async function within(ms: number, something: Promise<unknown>): Promise<void> {
  const enough = new AbortController();
  await Promise.race([something.catch(() => undefined), wait(ms, undefined, { signal: enough.signal }).catch(() => undefined)]);
  enough.abort();
}
