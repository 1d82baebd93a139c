import { sql } from 'drizzle-orm';
import { bigint, boolean, index, integer, jsonb, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core';
import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { instant } from './columns.js';
import type { JobProgress, StoredFile, StoryLine } from './json-types.js';
import type { JobState } from './states.js';

/** Tables beside the change files: what they hold can be made again or may be lost with the database. */

export const jobs = pgTable('jobs', {
  id: text().primaryKey(),
  kind: text().notNull(),
  /** The revision that it makes. */
  subjectId: text().notNull(),
  /** Lower goes first. */
  priority: integer().notNull(),
  lane: text().notNull(),
  state: text().$type<JobState>().notNull(),
  /** Ended by a fault so many times. */
  attempts: integer().notNull().default(0),
  /** Its worker died so many times. */
  crashes: integer().notNull().default(0),
  /** Came to `waiting` so many times. */
  turns: integer().notNull().default(0),
  notBefore: instant().notNull(),
  worker: text(),
  /** Known to the one that runs it alone. */
  lease: text(),
  leaseUntil: instant(),
  progress: jsonb().$type<JobProgress>(),
  /** Files that can be looked at before the job ends. */
  preview: jsonb().$type<readonly StoredFile[]>(),
  cancelAsked: boolean().notNull().default(false),
  fault: text(),
  story: jsonb().$type<readonly StoryLine[]>().notNull(),
  createdAt: instant().notNull(),
  startedAt: instant(),
  endedAt: instant(),
}, (t) => [
  index().on(t.state, t.priority, t.notBefore), index().on(t.lane, t.state),
  // One job at a time for one thing.
  uniqueIndex().on(t.subjectId).where(sql`${t.state} in ('waiting', 'running')`),
]);

/** Jobs of one lane wait for those of the others: the lane with the lowest turn goes next. */
export const lanes = pgTable('lanes', {
  name: text().primaryKey(),
  turn: bigint({ mode: 'number' }).notNull(),
  paused: boolean().notNull().default(false),
});

export const sessions = pgTable('sessions', {
  id: text().primaryKey(),
  /** Of the cookie's value. */
  sha256: text().notNull().unique(),
  personId: text().notNull(),
  csrf: text().notNull(),
  createdAt: instant().notNull(),
  seenAt: instant().notNull(),
  expiresAt: instant().notNull(),
}, (t) => [index().on(t.personId), index().on(t.expiresAt)]);

export const signInTries = pgTable('sign_in_tries', {
  key: text().primaryKey(),
  count: integer().notNull(),
  since: instant().notNull(),
  blockedUntil: instant(),
});

export const uploads = pgTable('uploads', {
  id: text().primaryKey(),
  /** Null where the upload was begun for an order and the cast is named at its end. */
  castId: text(),
  /** Set where there is no `castId`. */
  orderId: text(),
  fileName: text().notNull(),
  size: bigint({ mode: 'number' }).notNull(),
  received: bigint({ mode: 'number' }).notNull(),
  /** Of the whole, once it is in the store of files. */
  sha256: text(),
  /** Bytes of the whole as it is kept: unpacked. */
  keptSize: bigint({ mode: 'number' }),
  particulars: jsonb().$type<Readonly<Record<string, unknown>>>().notNull(),
  personId: text(),
  createdAt: instant().notNull(),
  expiresAt: instant().notNull(),
}, (t) => [index().on(t.expiresAt)]);

/** Results laid on each other, under a key of all that went in. */
export const comparisons = pgTable('comparisons', {
  id: text().primaryKey(),
  firstRevisionId: text().notNull(),
  secondRevisionId: text().notNull(),
  of: text().$type<'cast' | 'last'>().notNull(),
  report: jsonb().$type<ComparisonReport>().notNull(),
  files: jsonb().$type<readonly StoredFile[]>().notNull(),
  createdAt: instant().notNull(),
}, (t) => [index().on(t.firstRevisionId), index().on(t.secondRevisionId)]);
