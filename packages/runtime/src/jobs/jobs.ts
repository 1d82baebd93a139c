import { EventEmitter } from 'node:events';
import { count, eq, sql } from 'drizzle-orm';
import type { JobsConfig } from '../config.js';
import type { Log } from '../log.js';
import type { ChangeDraft } from '../records/changes/change.js';
import type { Tx } from '../records/database.js';
import type { JobProgress, Refusal, StoredFile, StoryLine } from '../records/json-types.js';
import type { Records } from '../records/records.js';
import { jobs } from '../records/working-tables.js';
import type { JobState } from '../records/states.js';
import { cancelJob, cancelLane, setPaused } from './cancel.js';
import { beat, claim } from './claim.js';
import { enqueue } from './enqueue.js';
import { held, readyTickets, silent } from './reconcile.js';
import type { LeasesSeen, Ticket } from './reconcile.js';
import { finish, sendBack } from './settle.js';

export type JobRow = typeof jobs.$inferSelect;

export interface NewJob {
  readonly kind: string;
  readonly subjectId: string;
  readonly priority: number;
  /** Jobs of different lanes take turns. */
  readonly lane: string;
}

/** How a job ended for good. */
export type JobEnd =
  | { readonly state: 'done'; readonly result: unknown }
  | { readonly state: 'refused'; readonly refusal: Refusal }
  | { readonly state: 'failed' | 'set-aside' | 'cancelled' };

/** Puts what a job's end means for what it is about, in the transaction of the end. */
export type WhenEnded = (draft: ChangeDraft, job: JobRow, end: JobEnd) => Promise<void>;

/** Hints of this process alone; the rows are the truth. */
export interface JobEvents {
  progress: [job: { readonly id: string; readonly subjectId: string; readonly progress: JobProgress }];
  ended: [job: { readonly id: string; readonly subjectId: string; readonly state: JobState }];
  /** There is a job to do, from so many milliseconds on. */
  waiting: [tickets: readonly Ticket[]];
}

/** The jobs as rows: everything that can happen to one, whichever runner it runs in. */
export interface Jobs {
  /** In the transaction of what the job is about; the runner hears of it once the change is acknowledged. */
  enqueue(draft: Pick<ChangeDraft, 'tx' | 'at' | 'afterCommit'>, job: NewJob): Promise<string>;
  /** The next job in line, now this worker's; null where there is none. */
  claim(worker: string): Promise<JobRow | null>;
  /** Says that the worker lives, and how far it is. */
  beat(job: JobRow, news?: { readonly progress?: JobProgress; readonly preview?: readonly StoredFile[] }): Promise<'go-on' | 'cancel' | 'lost'>;
  /** Ends it for good, with one visible result; false where it is no longer this worker's. */
  finish(job: JobRow, end: JobEnd): Promise<boolean>;
  /** Ends a try: back to waiting, or to `failed` or `set-aside` where that was the last. */
  sendBack(job: JobRow, line: Omit<StoryLine, 'at' | 'worker'>): Promise<void>;
  /** What waits is cancelled at once, what runs is told. Within a change of the one who asks. */
  cancel(draft: ChangeDraft, jobId: string): Promise<void>;
  cancelLane(draft: ChangeDraft, lane: string): Promise<void>;
  pauseLane(tx: Tx, lane: string): Promise<void>;
  resumeLane(draft: Pick<ChangeDraft, 'tx' | 'afterCommit'>, lane: string): Promise<void>;
  /** Sends back what dead workers hold, or all that is held where none can be alive, and tells again of all that waits. */
  reconcile(options?: { readonly noneAlive?: boolean }): Promise<void>;
  counts(): Promise<Readonly<Record<JobState, number>>>;
  readonly events: EventEmitter<JobEvents>;
}

export interface JobsOptions {
  readonly records: Records;
  readonly config: Pick<JobsConfig, 'leaseMs'>;
  readonly log: Log;
  readonly whenEnded: WhenEnded;
  /** Wait before the second try of what ended by a fault; twice as long before each further one. */
  readonly backoffMs?: number;
}

/** What the parts of `Jobs` share. */
export interface JobsContext extends Required<JobsOptions> {
  readonly events: EventEmitter<JobEvents>;
  readonly leasesSeen: LeasesSeen;
}

export function openJobs(options: JobsOptions): Jobs {
  const events = new EventEmitter<JobEvents>();
  events.setMaxListeners(0);
  const context: JobsContext = { backoffMs: 5000, ...options, events, leasesSeen: new Map() };
  const { records } = context;
  return {
    enqueue: (draft, job) => enqueue(context, draft, job),
    claim: (worker) => claim(context, worker),
    beat: (job, news) => beat(context, job, news),
    finish: (job, end) => finish(context, job, end),
    sendBack: (job, line) => sendBack(context, job, line),
    cancel: (draft, jobId) => cancelJob(context, draft, jobId),
    cancelLane: (draft, lane) => cancelLane(context, draft, lane),
    pauseLane: (tx, lane) => setPaused(tx, lane, true),
    resumeLane: async (draft, lane) => {
      await setPaused(draft.tx, lane, false);
      const tickets = await readyTickets(context, draft.tx, eq(jobs.lane, lane));
      draft.afterCommit(() => events.emit('waiting', tickets));
    },
    reconcile: async ({ noneAlive = false } = {}) => {
      for (const job of noneAlive ? await held(records.db) : await silent(context)) await sendBack(context, job, { what: 'lease-ran-out', stage: job.progress?.stage ?? null, text: 'Its worker no longer speaks.' });
      events.emit('waiting', await readyTickets(context, records.db, sql`true`));
    },
    counts: async () => {
      const rows = await records.db.select({ state: jobs.state, n: count() }).from(jobs).groupBy(jobs.state);
      return { waiting: 0, running: 0, done: 0, refused: 0, failed: 0, 'set-aside': 0, cancelled: 0, ...Object.fromEntries(rows.map(({ state, n }) => [state, n])) };
    },
    events,
  };
}
