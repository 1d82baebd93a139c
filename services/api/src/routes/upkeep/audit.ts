import { and, desc, eq, gte, like, lt, lte } from 'drizzle-orm';
import { z } from 'zod';
import { audit } from '@cast-to-last/runtime/records/schema';
import { instantText } from '@cast-to-last/runtime/records/instant-text';
import { route } from '../../http/route.js';

const query = z.strictObject({
  limit: z.coerce.number().int().min(1).max(200).default(50), after: z.coerce.number().int().positive().optional(),
  /** What was done: its kind, or what the kinds begin with. */
  kind: z.string().regex(/^[a-z.-]{1,40}$/).optional(), actor: z.uuid().optional(), subject: z.uuid().optional(), from: instantText.optional(), to: instantText.optional(),
});

export const listAudit = route({
  method: 'get', path: '/audit', summary: 'What was done, by whom and when, newest first; by the beginning of its kind, by who did it, by what it was done to, by time.', query,
  handle: async ({ service: { runtime }, query: { limit, after, kind: begins, actor, subject, from, to } }) => {
    const { seq, at, actorKind, actorId, kind, subjectTable, subjectId, sha256 } = audit;
    const rows = await runtime.records.db.select({ seq, at, actorKind, actorId, kind, subjectTable, subjectId, sha256 }).from(audit)
      .where(and(
        after === undefined ? undefined : lt(seq, after),
        begins === undefined ? undefined : like(kind, `${begins}%`),
        actor === undefined ? undefined : eq(actorId, actor),
        subject === undefined ? undefined : eq(subjectId, subject),
        from === undefined ? undefined : gte(at, from),
        to === undefined ? undefined : lte(at, to),
      )).orderBy(desc(seq)).limit(limit + 1);
    return { body: { items: rows.slice(0, limit), next: rows.length > limit ? String(rows[limit - 1].seq) : null } };
  },
});
