import { randomUUID } from 'node:crypto';
import { and, eq, inArray, isNull } from 'drizzle-orm';
import { z } from 'zod';
import type { Db } from '@cast-to-last/runtime/records/database';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { batchItems } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import type { Comparison } from '../../batches/compare-results.js';
import { conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';

const within = z.strictObject({ maxMm: z.number().min(0).max(1000), girthMm: z.number().min(0).max(1000) });
const body = z.strictObject({
  itemIds: z.array(z.uuid()).min(1).max(500).optional(), within: within.optional(),
  approvedSeen: z.array(z.uuid()).max(500).optional().meta({ description: 'Of the items, those whose cast was seen to be approved. Where this is given, no other approved last is replaced.' }),
})
  .refine(({ itemIds, within: limits }) => itemIds !== undefined || limits !== undefined, { message: 'needs itemIds or within' });

/** Items in one change. */
const AT_A_TIME = 50;

/** Items that nobody decided on yet. */
const openItems = (db: Db, batchId: string, itemIds?: readonly string[]) =>
  db.select().from(batchItems).where(and(eq(batchItems.batchId, batchId), isNull(batchItems.verdict), itemIds === undefined ? undefined : inArray(batchItems.id, [...itemIds])));

export const readWithin = route({
  method: 'get', path: '/batches/:id/within', summary: 'Which open items lie within limits, before they are accepted.',
  query: z.strictObject({ maxMm: z.coerce.number().min(0).max(1000), girthMm: z.coerce.number().min(0).max(1000) }),
  handle: async ({ service: { runtime: { records: { db } } }, params: { id }, query }) => ({
    body: { itemIds: (await openItems(db, id)).filter(({ comparison }) => isWithin(comparison, query)).map((item) => item.id) },
  }),
});

export const acceptItems = route({
  method: 'post', path: '/batches/:id/accept', summary: 'Takes candidates as the casts\' results: the named ones, all those within limits, or the named ones within limits. An approved cast stays approved, by its candidate; `approvedSeen` keeps lasts that were approved meanwhile from being replaced unseen.', body,
  handle: async ({ service: { runtime: { records } }, by, params: { id }, body: { itemIds, within: limits, approvedSeen } }) => {
    const chosen = (await openItems(records.db, id, itemIds)).filter(({ comparison }) => isWithin(comparison, limits));
    const accepted: string[] = [];
    const left: { itemId: string; why: string }[] = [];
    for (let i = 0; i < chosen.length; i += AT_A_TIME) {
      const outcomes = await records.change(by, 'batch.accepted', { table: 'batches', id }, async (draft) => {
        if ((await draft.expect('batches', id)).filter.trial === true) throw conflict('trial', 'A trial is looked at and not accepted.', 'Add the rules as a version and make a batch by it.');
        const done: { itemId: string; why: string | null }[] = [];
        for (const item of chosen.slice(i, i + AT_A_TIME)) done.push({ itemId: item.id, why: await accept(draft, item.id, by.id, approvedSeen) });
        return done;
      });
      for (const { itemId, why } of outcomes) {
        if (why === null) accepted.push(itemId);
        else left.push({ itemId, why });
      }
    }
    return { body: { accepted, left } };
  },
});

/** Whether a candidate was compared and changes no more than is allowed. A girth that came or went is no small change. */
export function isWithin(comparison: RowOf<'batch_items'>['comparison'], limits: z.output<typeof within> | undefined): boolean {
  if (limits === undefined) return true;
  if (comparison === null || 'problem' in comparison) return false;
  const { maxMm, girths } = comparison as unknown as Comparison;
  return maxMm <= limits.maxMm && girths.every(({ before, after }) => before === after || (before !== null && after !== null && Math.abs(after - before) <= limits.girthMm));
}

/** Takes one candidate; null, or why it was left. */
async function accept(draft: ChangeDraft, itemId: string, personId: string | null, approvedSeen: readonly string[] | undefined): Promise<string | null> {
  const item = await draft.expect('batch_items', itemId);
  if (item.verdict !== null) return 'It was decided on meanwhile.';
  if (item.revisionId === null || item.againstId === null) return 'It has no candidate.';
  const candidate = await draft.expect('revisions', item.revisionId);
  if (candidate.state !== 'done') return `Its candidate is ${candidate.state}.`;
  if (item.comparison === null) return 'Its candidate is not compared yet.';
  const cast = await draft.expect('casts', item.castId);
  if (cast.state === 'in-work' || (cast.approvedRevisionId ?? cast.currentRevisionId) !== item.againstId) return 'The cast has another result by now than the one compared with.';
  const approved = cast.approvedRevisionId !== null;
  if (approved && approvedSeen !== undefined && !approvedSeen.includes(itemId)) return 'Its last was approved meanwhile. Look at it again before it is replaced.';
  if (approved) {
    await draft.put('approvals', {
      id: randomUUID(), castId: cast.id, revisionId: candidate.id, verdict: 'approved', reason: `Batch ${item.batchId}`, fingerprint: candidate.fingerprint, personId: personId ?? '',
    });
  }
  await draft.put('casts', { ...cast, currentRevisionId: candidate.id, approvedRevisionId: approved ? candidate.id : null, state: approved ? 'approved' : 'to-review' });
  await draft.put('batch_items', { ...item, verdict: 'accepted' });
  return null;
}
