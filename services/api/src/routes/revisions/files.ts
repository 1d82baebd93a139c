import { desc, eq } from 'drizzle-orm';
import { z } from 'zod';
import { casts, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { mediaType, sendFile } from '../../http/send-file.js';

/** Of a fingerprint in a file's name: enough to tell one result from another at sight. */
const FINGERPRINT_DIGITS = 12;

export const readFile = route({
  method: 'get', path: '/revisions/:id/files/:name', summary: 'A file of a result; while it is made, the preview where there is one. Ranges and ETags are served; `show` has a browser show a PDF in place of keeping it.', produces: 'application/octet-stream',
  query: z.strictObject({ show: z.literal('1').optional() }),
  handle: async ({ service: { runtime: { records: { db }, artifacts } }, params: { id, name }, query: { show }, request, response }) => {
    const [row] = await db.select({ revision: revisions, side: casts.side, approvedId: casts.approvedRevisionId, orderNumber: orders.number })
      .from(revisions).innerJoin(casts, eq(casts.id, revisions.castId)).innerJoin(orders, eq(orders.id, casts.orderId)).where(eq(revisions.id, id));
    if (row === undefined) throw notFound('revision');
    const { revision, side, approvedId, orderNumber } = row;
    const kept = revision.files.find((file) => file.name === name);
    const [job] = kept === undefined && revision.state === 'waiting' ? await db.select({ preview: jobs.preview }).from(jobs).where(eq(jobs.subjectId, id)).orderBy(desc(jobs.createdAt)).limit(1) : [];
    const file = kept ?? job?.preview?.find((preview) => preview.name === name);
    if (file === undefined) throw notFound('file of this revision');
    const mark = approvedId === id && revision.fingerprint !== null ? `approved-${revision.fingerprint.slice(0, FINGERPRINT_DIGITS)}` : `revision-${revision.number}`;
    await sendFile(artifacts, request, response, {
      ...file, type: mediaType(name), offeredAs: `${orderNumber}-${side}-${mark}-${name}`, lasting: false, shown: show !== undefined && name.endsWith('.pdf'),
    });
    return null;
  },
});
