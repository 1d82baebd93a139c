import { Worker } from 'node:worker_threads';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { WorkConfig } from '../config.js';
import { WorkerDied } from '../jobs/runner.js';
import type { WorkControl } from '../jobs/runner.js';
import type { Log } from '../log.js';
import type { CastMade, CastTask } from './cast-task.js';
import type { FromThread, ThreadSettings } from './thread-messages.js';

/** Threads that make casts, kept warm between them. */
export interface CastThreads {
  /** Throws CastError where the cast is refused, WorkerDied where the thread ended or had to be, any other error as it came. */
  run(task: CastTask, control: WorkControl): Promise<CastMade>;
  close(): Promise<void>;
}

export interface CastThreadsOptions extends ThreadSettings {
  readonly limits: Pick<WorkConfig, 'timeoutMs' | 'memoryMb'>;
  readonly log: Log;
  /** The program of the threads. */
  readonly program?: URL;
}

/** Compiled, whatever runs here: threads know nothing of loaders for TypeScript. */
const PROGRAM = new URL('../../dist/revisions/cast-thread.js', import.meta.url);

/** The arrays of meshes lie outside the engine's heap, the only part with a limit of its own: the whole process is watched. */
const WATCH_MS = 200;

/** A thread after whose work the process holds more than this share of what one cast may take is not kept. */
const KEPT_UP_TO = 0.5;

export function openCastThreads({ limits, log, program = PROGRAM, ...settings }: CastThreadsOptions): CastThreads {
  const idle: Thread[] = [];
  /** Threads that are not kept and still store what they made beside the cast. */
  const ending = new Set<Thread>();
  let busy = 0;
  const emptyBytes = process.memoryUsage.rss();
  const heldMb = (): number => (process.memoryUsage.rss() - emptyBytes) / 1024 / 1024;

  const start = (): Thread => {
    // execArgv stands in for flags of this process, such as those of a test runner, that a thread must not have.
    const worker = new Worker(program, { workerData: settings, execArgv: [], resourceLimits: { maxOldGenerationSizeMb: limits.memoryMb } });
    const thread: Thread = { worker, run: null };
    let why: WorkerDied | null = null;
    worker.on('message', (message: FromThread) => {
      if (message.kind === 'warning') log.warn(message.text);
      else if (message.kind === 'settled') {
        if (ending.has(thread)) void worker.terminate();
      }
      else thread.run?.hear(message);
    });
    worker.on('error', (error: NodeJS.ErrnoException) => {
      why = error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? tooMuch(limits) : new WorkerDied('worker-died', error.stack ?? error.message);
    });
    worker.on('exit', (code) => {
      if (idle.includes(thread)) idle.splice(idle.indexOf(thread), 1);
      ending.delete(thread);
      thread.run?.died(why ?? new WorkerDied('worker-died', `Its thread ended with code ${code}.`));
    });
    return thread;
  };

  const run = (thread: Thread, task: CastTask, { signal, progress, preview }: WorkControl): Promise<CastMade> =>
    new Promise((resolve, reject) => {
      let why: WorkerDied | null = null;
      const kill = (reason: WorkerDied | null): void => {
        why ??= reason;
        void thread.worker.terminate();
      };
      const onAbort = (): void => kill(null);
      const timer = setTimeout(() => kill(new WorkerDied('out-of-time', `It took more than ${limits.timeoutMs / 1000} s.`)), limits.timeoutMs);
      const watch = setInterval(() => {
        if (heldMb() > busy * limits.memoryMb) kill(tooMuch(limits));
      }, WATCH_MS);
      const release = (): void => {
        clearTimeout(timer);
        clearInterval(watch);
        signal.removeEventListener('abort', onAbort);
        thread.run = null;
      };
      thread.run = {
        hear: (message) => {
          if (message.kind === 'progress') progress(message.progress);
          else if (message.kind === 'preview') preview(message.files);
          else {
            release();
            if (heldMb() > KEPT_UP_TO * limits.memoryMb) ending.add(thread);
            else idle.push(thread);
            if (message.kind === 'made') resolve(message.made);
            else if (message.kind === 'refused') reject(new CastError(message.code, message.problem, message.remedy));
            else reject(Object.assign(new Error(message.message), { stack: message.stack }));
          }
        },
        died: (reason) => {
          release();
          reject(why ?? reason);
        },
      };
      signal.addEventListener('abort', onAbort, { once: true });
      if (signal.aborted) onAbort();
      else thread.worker.postMessage(task);
    });

  return {
    run: async (task, control) => {
      busy++;
      try {
        return await run(idle.pop() ?? start(), task, control);
      } finally {
        busy--;
      }
    },
    close: async () => {
      await Promise.all([...idle.splice(0), ...ending].map(({ worker }) => worker.terminate()));
    },
  };
}

/** A thread with what it runs now, if anything. */
interface Thread {
  readonly worker: Worker;
  run: { hear(message: Exclude<FromThread, { kind: 'warning' | 'settled' }>): void; died(reason: WorkerDied): void } | null;
}

const tooMuch = ({ memoryMb }: Pick<WorkConfig, 'memoryMb'>): WorkerDied => new WorkerDied('out-of-memory', `It took more than ${memoryMb} MB.`);
