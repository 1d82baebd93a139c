import { bigint, boolean, date, doublePrecision, index, integer, jsonb, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { Order } from '@cast-to-last/pipeline/order';
import type { LengthUnit, ScanKind } from '@cast-to-last/pipeline/records';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import { instant, putColumns } from './columns.js';
import type { Consent, Photo, Refusal, RevisionSummary, StoredFile, StoryLine } from './json-types.js';
import type { CastState, ORDER_STATES, RevisionState } from './states.js';

/** The tables that changes put; every row of them can be made again from the change files. */

export const customers = pgTable('customers', {
  ...putColumns,
  number: text().notNull().unique(),
  name: text(),
  contact: text(),
  consent: jsonb().$type<Consent>(),
  retainUntil: date({ mode: 'string' }),
  erasedAt: instant(),
});

export const orders = pgTable('orders', {
  ...putColumns,
  number: text().notNull().unique(),
  customerId: text(),
  state: text().$type<(typeof ORDER_STATES)[number]>().notNull(),
  content: jsonb().$type<Order>().notNull(),
  discipline: text(),
}, (t) => [index().on(t.customerId), index().on(t.createdAt, t.id)]);

export const casts = pgTable('casts', {
  ...putColumns,
  orderId: text().notNull(),
  side: text().$type<'left' | 'right'>().notNull(),
  state: text().$type<CastState>().notNull(),
  arrivedAt: instant(),
  drying: jsonb().$type<{ readonly since?: string; readonly until?: string; readonly how?: string }>(),
  photos: jsonb().$type<readonly Photo[]>().notNull(),
  note: text(),
  recastOfId: text(),
  currentRevisionId: text(),
  approvedRevisionId: text(),
}, (t) => [index().on(t.orderId), index().on(t.state, t.createdAt, t.id), index().on(t.createdAt, t.id)]);

export const scans = pgTable('scans', {
  ...putColumns,
  castId: text().notNull(),
  fileName: text().notNull(),
  sha256: text().notNull(),
  size: bigint({ mode: 'number' }).notNull(),
  kind: text().$type<ScanKind>().notNull(),
  unit: text().$type<LengthUnit | 'auto'>().notNull(),
  wallMm: doublePrecision(),
  sideOverride: boolean().notNull(),
  scannerId: text(),
  personId: text(),
}, (t) => [index().on(t.castId), index().on(t.sha256)]);

export const scanners = pgTable('scanners', { ...putColumns, name: text().notNull().unique(), retiredAt: instant() });

export const scannerChecks = pgTable('scanner_checks', {
  ...putColumns,
  scannerId: text().notNull(),
  at: instant().notNull(),
  content: jsonb().$type<StoredScannerCheck>().notNull(),
  verdict: text().notNull(),
}, (t) => [index().on(t.scannerId, t.at)]);

export const ruleSets = pgTable('rule_sets', {
  ...putColumns,
  name: text().notNull(),
  number: integer().notNull(),
  content: jsonb().$type<RuleSet>().notNull(),
  sha256: text().notNull(),
  note: text(),
  personId: text(),
}, (t) => [uniqueIndex().on(t.name, t.number)]);

export const decisions = pgTable('decisions', {
  ...putColumns,
  scanId: text().notNull(),
  content: jsonb().$type<Decisions>().notNull(),
  sha256: text().notNull(),
  personId: text(),
}, (t) => [index().on(t.scanId, t.createdAt)]);

export const revisions = pgTable('revisions', {
  ...putColumns,
  castId: text().notNull(),
  scanId: text().notNull(),
  ruleSetId: text().notNull(),
  decisionsId: text(),
  number: integer().notNull(),
  inputsSha256: text().notNull(),
  origin: text().$type<'person' | 'batch' | 'import'>().notNull(),
  batchId: text(),
  state: text().$type<RevisionState>().notNull(),
  files: jsonb().$type<readonly StoredFile[]>().notNull(),
  summary: jsonb().$type<RevisionSummary>(),
  refusal: jsonb().$type<Refusal>(),
  story: jsonb().$type<readonly StoryLine[]>().notNull(),
  fingerprint: text(),
  programVersion: text(),
  endedAt: instant(),
}, (t) => [uniqueIndex().on(t.castId, t.number), uniqueIndex().on(t.castId, t.inputsSha256), index().on(t.batchId), index().on(t.state)]);

export const approvals = pgTable('approvals', {
  ...putColumns,
  castId: text().notNull(),
  revisionId: text().notNull(),
  verdict: text().$type<'approved' | 'sent-back' | 'recast'>().notNull(),
  reason: text(),
  fingerprint: text(),
  personId: text().notNull(),
}, (t) => [index().on(t.castId, t.createdAt)]);

export const batches = pgTable('batches', {
  ...putColumns,
  name: text().notNull(),
  ruleSetId: text().notNull(),
  filter: jsonb().$type<Readonly<Record<string, unknown>>>().notNull(),
  state: text().$type<'running' | 'paused' | 'cancelled' | 'ended'>().notNull(),
  personId: text(),
});

export const batchItems = pgTable('batch_items', {
  ...putColumns,
  batchId: text().notNull(),
  castId: text().notNull(),
  revisionId: text(),
  againstId: text(),
  comparison: jsonb().$type<Readonly<Record<string, unknown>>>(),
  verdict: text().$type<'accepted' | 'declined'>(),
}, (t) => [uniqueIndex().on(t.batchId, t.castId), index().on(t.revisionId)]);

export const people = pgTable('people', {
  ...putColumns,
  name: text().notNull().unique(),
  displayName: text().notNull(),
  role: text().$type<'assistant' | 'maker' | 'administrator'>().notNull(),
  passwordHash: text(),
  state: text().$type<'active' | 'disabled'>().notNull(),
});

export const tokens = pgTable('tokens', {
  ...putColumns,
  name: text().notNull(),
  scope: text().$type<'upload' | 'first-account'>().notNull(),
  sha256: text().notNull().unique(),
  personId: text(),
  expiresAt: instant(),
  revokedAt: instant(),
});

/** Tables that changes put, by their name in SQL. Rows of those in `IMMUTABLE` are put once. */
export const PUT_TABLES = {
  customers, orders, casts, scans, scanners, scanner_checks: scannerChecks, rule_sets: ruleSets, decisions, revisions, approvals, batches,
  batch_items: batchItems, people, tokens,
} as const;
export const IMMUTABLE: ReadonlySet<TableName> = new Set(['rule_sets', 'decisions', 'approvals', 'scanner_checks']);

export type TableName = keyof typeof PUT_TABLES;
export type RowOf<Name extends TableName> = (typeof PUT_TABLES)[Name]['$inferSelect'];
/** A row as a change gives it: version and instants are set by the change. */
export type NewRowOf<Name extends TableName> = Omit<(typeof PUT_TABLES)[Name]['$inferInsert'], 'version' | 'createdAt' | 'changedAt'>;

/** One entry for each change, chained by hash. Entries are never altered but that the content of an erased customer is taken out. */
export const audit = pgTable('audit', {
  /** From 1, without holes. */
  seq: bigint({ mode: 'number' }).primaryKey(),
  id: text().notNull().unique(),
  at: instant().notNull(),
  actorKind: text().$type<'person' | 'station' | 'program'>().notNull(),
  actorId: text(),
  kind: text().notNull(),
  subjectTable: text().$type<TableName>().notNull(),
  subjectId: text().notNull(),
  contentSha256: text().notNull(),
  previousSha256: text().notNull(),
  sha256: text().notNull(),
  /** JSON as it was hashed, after the salt. */
  content: text().notNull(),
  /** Null once rows were taken out of the content: it can no longer be checked against its hash. */
  salt: text(),
}, (t) => [index().on(t.subjectTable, t.subjectId, t.seq), index().on(t.at)]);

/** The rows that each change touched. */
export const auditRows = pgTable('audit_rows', {
  seq: bigint({ mode: 'number' }).notNull(),
  tableName: text().$type<TableName>().notNull(),
  rowId: text().notNull(),
}, (t) => [uniqueIndex().on(t.tableName, t.rowId, t.seq)]);
