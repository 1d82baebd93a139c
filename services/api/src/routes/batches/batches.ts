import { randomUUID } from 'node:crypto';
import { count, eq, inArray, sql } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import { z } from 'zod';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import type { Db } from '@cast-to-last/runtime/records/database';
import { batchItems, batches, people, revisions, ruleSets } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { batchFilter, castsFor } from '../../batches/batch-filter.js';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { conflict, notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { TRIAL_PREFIX } from '../rules/current-rules.js';

export const shownBatch = ({ id, version, name, ruleSetId, filter: { castIds, trial, ...filter }, state, personId, createdAt, changedAt }: RowOf<'batches'>) =>
  ({ id, version, name, rulesId: ruleSetId, filter, trial: trial === true, casts: (castIds as readonly string[]).length, state, personId, createdAt, changedAt });

const none = { asked: 0, compared: 0, accepted: 0, declined: 0, done: 0, failed: 0 };

/** How far batches are, by their ids. */
async function countsOf(db: Db, ids: readonly string[]): Promise<Map<string, typeof none>> {
  if (ids.length === 0) return new Map();
  const countWhere = (condition: SQL) => sql<number>`count(*) filter (where ${condition})`.mapWith(Number);
  const rows = await db
    .select({
      id: batchItems.batchId, asked: count(), compared: count(batchItems.comparison), accepted: countWhere(sql`${batchItems.verdict} = 'accepted'`), declined: countWhere(sql`${batchItems.verdict} = 'declined'`),
      done: countWhere(sql`${revisions.state} = 'done'`), failed: countWhere(sql`${revisions.state} in ('refused', 'failed', 'set-aside', 'cancelled')`),
    })
    .from(batchItems).leftJoin(revisions, eq(revisions.id, batchItems.revisionId)).where(inArray(batchItems.batchId, [...ids])).groupBy(batchItems.batchId);
  return new Map(rows.map(({ id, ...counts }) => [id, counts]));
}

const withNames = (db: Db) =>
  db.select({ batch: batches, rulesName: ruleSets.name, rulesNumber: ruleSets.number, personName: people.displayName })
    .from(batches).innerJoin(ruleSets, eq(ruleSets.id, batches.ruleSetId)).leftJoin(people, eq(people.id, batches.personId));

export const listBatches = route({
  method: 'get', path: '/batches', summary: 'Batches with how far each is, newest first.', query: z.strictObject(pageQuery),
  handle: async ({ service: { runtime: { records: { db } } }, query }) => {
    const { where, orderBy } = newestFirst(batches, query);
    const rows = await withNames(db).where(where).orderBy(...orderBy).limit(query.limit + 1);
    const counts = await countsOf(db, rows.map(({ batch }) => batch.id));
    return { body: pageOf(rows.map(({ batch, ...names }) => ({ ...batch, names })), query, ({ names, ...batch }) => ({ ...shownBatch(batch), ...names, counts: counts.get(batch.id) ?? none })) };
  },
});

export const addBatch = route({
  method: 'post', path: '/batches', summary: 'Makes candidates by these rules of all casts that the filter names and that have a result; what is approved stays so.', status: 201,
  body: z.strictObject({ name: z.string().trim().min(1).max(120), rulesId: z.uuid(), filter: batchFilter }),
  handle: async ({ service: { runtime, batches: keeper }, by, body: { name, rulesId, filter } }) => {
    const id = randomUUID();
    const batch = await runtime.records.change(by, 'batch.added', { table: 'batches', id }, async (draft) => {
      await draft.expect('rule_sets', rulesId);
      const castIds = await castsFor(draft.tx, filter);
      if (castIds.length === 0) throw conflict('no-casts', 'No cast with a result fits this filter.', 'Choose another filter.');
      return draft.put('batches', { id, name, ruleSetId: rulesId, filter: { ...filter, castIds }, state: 'running', personId: by.id });
    });
    keeper.wake();
    return { status: 201, body: shownBatch(batch), version: batch.version };
  },
});

export const tryRules = route({
  method: 'post', path: '/rules/trial', summary: 'Tries rules on chosen casts without adding a version: a batch that can be looked at and not accepted.', status: 201,
  body: z.strictObject({ content: z.record(z.string(), z.unknown()), castIds: z.array(z.uuid()).min(1).max(50) }),
  handle: async ({ service: { runtime, batches: keeper }, by, body: { content, castIds: wanted } }) => {
    const [id, ruleSetId] = [randomUUID(), randomUUID()];
    const rules = parseRules(content);
    const batch = await runtime.records.change(by, 'rules.tried', { table: 'batches', id }, async (draft) => {
      const castIds = await castsFor(draft.tx, { castIds: wanted });
      if (castIds.length === 0) throw conflict('no-casts', 'None of these casts has a result.', 'Choose others.');
      await draft.put('rule_sets', { id: ruleSetId, name: `${TRIAL_PREFIX}${id}`, number: 1, content: rules, sha256: jsonSha256(rules), personId: by.id });
      return draft.put('batches', { id, name: `Trial of ${rules.name}`, ruleSetId, filter: { castIds, trial: true }, state: 'running', personId: by.id });
    });
    keeper.wake();
    return { status: 201, body: shownBatch(batch), version: batch.version };
  },
});

export const readBatch = route({
  method: 'get', path: '/batches/:id', summary: 'One batch with how far it is.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await withNames(db).where(eq(batches.id, id));
    if (row === undefined) throw notFound('batch');
    const { batch, ...names } = row;
    return { body: { ...shownBatch(batch), ...names, counts: (await countsOf(db, [id])).get(id) ?? none }, version: batch.version };
  },
});
