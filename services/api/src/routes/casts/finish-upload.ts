import { randomUUID } from 'node:crypto';
import { desc, eq } from 'drizzle-orm';
import { z } from 'zod';
import { casts } from '@cast-to-last/runtime/records/schema';
import { jobs, uploads } from '@cast-to-last/runtime/records/working-tables';
import type { Db } from '@cast-to-last/runtime/records/database';
import { conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { askRevision } from '../revisions/ask-revision.js';
import { currentRules } from '../rules/current-rules.js';
import { particularsSchema } from './begin-upload.js';
import { alone, uploadOf } from './continue-upload.js';
import { sameScan } from './same-scan.js';
import { storeUpload } from './store-upload.js';

export const finishUpload = route({
  method: 'post', path: '/uploads/:id/finish', summary: 'Keeps an upload that is whole as a scan of its cast and begins the work on it; one that was begun for an order names the cast here.', status: 201,
  body: z.strictObject({ castId: z.uuid() }).partial(),
  handle: async (call) => {
    const { service: { runtime }, by, who, body } = call;
    const { records, jobs: queue } = runtime;
    const upload = await uploadOf(call);
    const castId = await castOf(records.db, upload, body.castId);
    const { sha256: _announced, encoding: _sent, ...particulars } = particularsSchema.parse(upload.particulars);
    return alone(upload.id, async () => {
      const stored = await storeUpload(runtime, upload);
      const made = await records.change(by, 'scan.added', { table: 'casts', id: castId }, async (draft) => {
        const scan = (await sameScan(draft, { ...particulars, castId, sha256: stored.sha256, wallMm: particulars.wallMm ?? null }))
          ?? (await draft.put('scans', { id: randomUUID(), castId, fileName: upload.fileName, ...stored, ...particulars, personId: who.kind === 'person' ? who.id : null }));
        const rules = await currentRules(draft);
        const revision = await askRevision(draft, queue, { castId, scanId: scan.id, ruleSetId: rules.id, decisionsId: null });
        await draft.tx.delete(uploads).where(eq(uploads.id, upload.id));
        const [job] = await draft.tx.select({ id: jobs.id }).from(jobs).where(eq(jobs.subjectId, revision.id)).orderBy(desc(jobs.createdAt)).limit(1);
        return { castId, scanId: scan.id, revisionId: revision.id, jobId: job?.id ?? null };
      });
      return { status: 201, body: made };
    });
  },
});

/** The cast that an upload becomes a scan of. Throws Problem 409 where it is not named, or is another than the upload may be of. */
async function castOf(db: Db, { castId, orderId }: Pick<typeof uploads.$inferSelect, 'castId' | 'orderId'>, named: string | undefined): Promise<string> {
  if (castId !== null) {
    if (named !== undefined && named !== castId) throw conflict('other-cast', 'This upload was begun for another cast.', 'Finish it without naming a cast, or give it up and upload the file for the other one.', { castId });
    return castId;
  }
  if (named === undefined) throw conflict('cast-not-named', 'This upload was begun for an order; which of its casts the scan shows is not known.', 'Name the cast: `castId`.');
  const [cast] = await db.select({ orderId: casts.orderId }).from(casts).where(eq(casts.id, named));
  if (cast?.orderId !== orderId) throw conflict('cast-of-other-order', 'The cast that is named is none of the order that this upload was begun for.', 'Name a cast of that order.', { orderId });
  return named;
}
