import { randomUUID } from 'node:crypto';
import { desc, eq } from 'drizzle-orm';
import { z } from 'zod';
import { approvals, people } from '@cast-to-last/runtime/records/schema';
import { expectCurrent } from '../../http/expect-current.js';
import { Problem, conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { shownCast } from '../casts/shown-cast.js';

const body = z.strictObject({ verdict: z.enum(['approved', 'sent-back', 'recast']), reason: z.string().trim().min(1).max(2000).optional(), fingerprint: z.string().max(64).nullable() })
  .refine(({ verdict, reason }) => verdict === 'approved' || reason !== undefined, { path: ['reason'], message: 'must say why' });

export const approve = route({
  method: 'post', path: '/revisions/:id/approval', summary: 'Approves a cast\'s current result, sends it back or asks for a new cast; If-Match is the version of the cast as it was looked at.', status: 201, body, conditional: true,
  handle: async ({ service: { runtime }, by, who, params: { id: revisionId }, body: { verdict, reason, fingerprint }, ifMatch }) => {
    const version = ifMatch();
    const id = randomUUID();
    const made = await runtime.records.change(by, `revision.${verdict}`, { table: 'revisions', id: revisionId }, async (draft) => {
      const revision = await draft.expect('revisions', revisionId);
      if (who.kind === 'person' && who.role === 'assistant' && (verdict !== 'recast' || revision.summary?.verdict !== 'recast')) {
        throw new Problem(403, 'not-allowed', 'An assistant only asks for a new cast, and only where the check of the cast does.', 'Ask a maker.');
      }
      const cast = await expectCurrent(draft, 'casts', revision.castId, version, shownCast);
      const current = { cast: shownCast(cast), revision: { id: revision.id, state: revision.state, fingerprint: revision.fingerprint } };
      if (fingerprint !== revision.fingerprint) throw conflict('changed-meanwhile', 'The result is not the one that was looked at.', 'Look at it as it stands now and decide again.', { current });
      if (verdict === 'approved' && (revision.state !== 'done' || revision.fingerprint === null)) throw conflict('nothing-to-approve', `This result is ${revision.state}.`, 'Only what was made can be approved.', { current });
      if (verdict === 'approved' && cast.state === 'in-work') throw conflict('being-made', 'The cast is being worked on.', 'Wait for the new result and decide on that.', { current });
      if (verdict === 'approved' && cast.currentRevisionId !== revision.id) throw conflict('not-current', 'Another result is the current one by now.', 'Look at that, or make this one the current one again.', { current });
      const approval = await draft.put('approvals', { id, castId: cast.id, revisionId, verdict, reason: reason ?? null, fingerprint: revision.fingerprint, personId: by.id ?? '' });
      const after = await draft.put('casts', { ...cast, state: verdict, approvedRevisionId: verdict === 'approved' ? revisionId : null });
      return { approval, cast: shownCast(after) };
    });
    return { status: 201, body: made, version: made.cast.version };
  },
});

export const listApprovals = route({
  method: 'get', path: '/casts/:id/approvals', summary: 'What was decided on the results of a cast, newest first.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => ({
    body: {
      items: (await db.select({ approval: approvals, personName: people.displayName }).from(approvals).leftJoin(people, eq(people.id, approvals.personId)).where(eq(approvals.castId, id)).orderBy(desc(approvals.createdAt)).limit(200))
        .map(({ approval, personName }) => ({ ...approval, personName })),
      next: null,
    },
  }),
});
