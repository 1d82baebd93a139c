import { randomUUID } from 'node:crypto';
import { and, desc, eq, inArray } from 'drizzle-orm';
import { z } from 'zod';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { casts, revisions } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { conflict, unusable } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { askRevision } from '../revisions/ask-revision.js';
import { currentRules } from '../rules/current-rules.js';
import { particularsSchema } from './begin-upload.js';
import { sameScan } from './same-scan.js';

const { kind, unit, wallMm, sideOverride } = particularsSchema.shape;

export const scanAgain = route({
  method: 'post', path: '/scans/:id/again', status: 201,
  summary: 'Works on the bytes of a scan once more, told of otherwise: in another unit, with another wall, whatever its shape says of the side, or as a scan of the order\'s cast of the other `side`.',
  body: z.strictObject({ kind: kind.unwrap(), unit: unit.unwrap(), wallMm: wallMm.unwrap(), sideOverride: sideOverride.unwrap(), side: z.enum(['left', 'right']) }).partial(),
  handle: async ({ service: { runtime }, by, who, params: { id }, body: { side, ...told } }) => {
    const made = await runtime.records.change(by, 'scan.added', { table: 'scans', id }, async (draft) => {
      const before = await draft.expect('scans', id);
      const cast = await draft.expect('casts', before.castId);
      const target = side === undefined || side === cast.side ? cast : await castOfSide(draft, cast.orderId, side);
      const { version: _version, createdAt: _createdAt, changedAt: _changedAt, ...kept } = before;
      const scan = { ...kept, ...told, id: randomUUID(), castId: target.id, personId: who.kind === 'person' ? who.id : null };
      if (scan.kind === 'positive' && told.wallMm !== undefined) throw unusable([{ path: 'wallMm', message: 'a positive has no wall' }]);
      const { id: scanId } = (await sameScan(draft, scan)) ?? (await draft.put('scans', scan));
      const rules = await currentRules(draft);
      const revision = await askRevision(draft, runtime.jobs, { castId: target.id, scanId, ruleSetId: rules.id, decisionsId: null });
      if (target !== cast) await waitAgain(draft, cast);
      return { castId: target.id, scanId, revisionId: revision.id };
    });
    return { status: 201, body: made };
  },
});

/** The newest cast of the other foot. Throws Problem 409 where there is none, or one that is approved. */
async function castOfSide({ tx }: ChangeDraft, orderId: string, side: 'left' | 'right'): Promise<RowOf<'casts'>> {
  const [cast] = await tx.select().from(casts).where(and(eq(casts.orderId, orderId), eq(casts.side, side))).orderBy(desc(casts.createdAt)).limit(1);
  if (cast === undefined) throw conflict('no-such-cast', `The order has no ${side} cast.`, `Book in the ${side} cast first, or scan again.`);
  if (cast.state === 'approved') throw conflict('cast-approved', `The ${side} cast is approved.`, 'Check the label; the scan may be of another order.');
  return cast;
}

/** A cast whose only scan was of another foot waits for its scan as before. */
async function waitAgain(draft: ChangeDraft, cast: RowOf<'casts'>): Promise<void> {
  const [other] = await draft.tx.select({ id: revisions.id }).from(revisions).where(and(eq(revisions.castId, cast.id), inArray(revisions.state, ['waiting', 'done']))).limit(1);
  if (other === undefined) await draft.put('casts', { ...cast, state: 'awaiting-scan' });
}
