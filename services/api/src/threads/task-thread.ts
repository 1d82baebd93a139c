import { Worker } from 'node:worker_threads';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { Config } from '@cast-to-last/runtime/config';
import { Problem } from '../http/problem.js';
import type { SentTask, TaskEnd, TaskKind, ThreadTasks } from './thread-task.js';

/** One thread for geometry, away from the loop that answers requests. One task at a time, in the order in which they came. */
export interface TaskThread {
  /** Throws CastError where the task is refused, Problem 503 where too many wait, and where the thread died or took too long. */
  run<Kind extends TaskKind>(kind: Kind, task: ThreadTasks[Kind]['task']): Promise<ThreadTasks[Kind]['answer']>;
  close(): Promise<void>;
}

export type TaskThreadConfig = Pick<Config, 'dataFolder' | 'objectStore' | 'cacheBytes'>;

/** Compiled, whatever runs here: threads know nothing of loaders for TypeScript. */
const PROGRAM = new URL('../../dist/threads/task-program.js', import.meta.url);
const MEMORY_MB = 1024;
const LONGEST_MS = 120_000;
/** Tasks that may wait behind the one that runs. */
const MOST_WAITING = 32;
/** A thread without work gives its memory back after so long. */
const IDLE_MS = 60_000;

export function openTaskThread({ dataFolder, objectStore, cacheBytes }: TaskThreadConfig): TaskThread {
  let worker: Worker | null = null;
  let last: Promise<unknown> = Promise.resolve();
  let waiting = 0;
  let closed = false;
  let idle: NodeJS.Timeout | undefined;

  const end = async (): Promise<void> => {
    const thread = worker;
    worker = null;
    await thread?.terminate();
  };

  const start = (): Worker => {
    const thread = new Worker(PROGRAM, { workerData: { store: { dataFolder, objectStore }, cacheBytes }, execArgv: [], resourceLimits: { maxOldGenerationSizeMb: MEMORY_MB } });
    // Between two tasks too an error must have a listener, or it ends the process.
    thread.on('error', () => undefined);
    thread.once('exit', () => {
      if (worker === thread) worker = null;
    });
    return thread;
  };

  const send = (task: SentTask): Promise<unknown> => {
    if (closed) throw new Error('The thread is closed.');
    clearTimeout(idle);
    const thread = (worker ??= start());
    return new Promise((resolve, reject) => {
      const settle = (): void => {
        clearTimeout(timer);
        thread.off('message', ended);
        thread.off('error', died);
        thread.off('exit', died);
        idle = setTimeout(() => void end(), IDLE_MS);
        idle.unref();
      };
      const ended = (told: TaskEnd): void => {
        settle();
        if ('answer' in told) resolve(told.answer);
        else if ('refused' in told) reject(new CastError(told.refused.code, told.refused.problem, told.refused.remedy));
        else reject(Object.assign(new Error(told.fault.message), { stack: told.fault.stack }));
      };
      const died = (error: unknown): void => {
        settle();
        if (worker === thread) worker = null;
        reject(error instanceof Error ? error : new Error(`The thread of ${task.kind} ended.`));
      };
      const timer = setTimeout(() => {
        void thread.terminate();
        died(new Error(`${task.kind} took more than ${LONGEST_MS / 1000} s.`));
      }, LONGEST_MS);
      thread.on('message', ended);
      thread.on('error', died);
      thread.on('exit', died);
      thread.postMessage(task);
    });
  };

  return {
    run: async <Kind extends TaskKind>(kind: Kind, task: ThreadTasks[Kind]['task']) => {
      if (waiting > MOST_WAITING) throw new Problem(503, 'busy', 'Too many others wait for the same.', 'Try again in a moment.', { headers: { 'Retry-After': '5' } });
      waiting++;
      const run = last.then(() => send({ kind, task } as SentTask));
      last = run.catch(() => undefined).finally(() => waiting--);
      return (await run) as ThreadTasks[Kind]['answer'];
    },
    close: async () => {
      closed = true;
      clearTimeout(idle);
      await end();
    },
  };
}
