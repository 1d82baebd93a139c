import { desc, lt } from 'drizzle-orm';
import { z } from 'zod';
import { audit } from '@cast-to-last/runtime/records/schema';
import { route } from '../../http/route.js';

const query = z.strictObject({ limit: z.coerce.number().int().min(1).max(200).default(50), after: z.coerce.number().int().positive().optional() });

export const listAudit = route({
  method: 'get', path: '/audit', summary: 'What was done, by whom and when; newest first.', query,
  handle: async ({ service: { runtime }, query: { limit, after } }) => {
    const { seq, at, actorKind, actorId, kind, subjectTable, subjectId, sha256 } = audit;
    const rows = await runtime.records.db.select({ seq, at, actorKind, actorId, kind, subjectTable, subjectId, sha256 }).from(audit)
      .where(after === undefined ? undefined : lt(seq, after)).orderBy(desc(seq)).limit(limit + 1);
    return { body: { items: rows.slice(0, limit), next: rows.length > limit ? String(rows[limit - 1].seq) : null } };
  },
});
