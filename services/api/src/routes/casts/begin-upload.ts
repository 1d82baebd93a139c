import { randomUUID } from 'node:crypto';
import { and, desc, eq, inArray } from 'drizzle-orm';
import { z } from 'zod';
import { casts, orders, revisions, scans } from '@cast-to-last/runtime/records/schema';
import { uploads } from '@cast-to-last/runtime/records/working-tables';
import type { Answer, Call } from '../../http/route.js';
import { route } from '../../http/route.js';
import { Problem, notFound, unusable } from '../../http/problem.js';

/** What is known of a scan beside its bytes. */
export const particularsSchema = z.strictObject({
  kind: z.enum(['positive', 'outside', 'inside']).default('positive'),
  unit: z.enum(['auto', 'mm', 'cm', 'm', 'in']).default('auto'),
  wallMm: z.number().min(0.5).max(30).optional(),
  sideOverride: z.boolean().default(false),
  scannerId: z.uuid().optional(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/).optional(),
});

const upload = particularsSchema.extend({
  fileName: z.string().trim().min(1).max(200).refine((name) => !/[\\/\p{Cc}]/u.test(name), 'must be the name of a file, without folders'),
  size: z.int().min(1, 'must be at least 1 byte'),
});

/** Parts are of any size; this is what a poor line should send at a time. */
const PART_BYTES = 8 * 1024 * 1024;
const HOLDS_MS = 7 * 24 * 3_600_000;

export const beginUpload = route({
  method: 'post', path: '/casts/:id/uploads', summary: 'Begins to upload a scan of a cast.', status: 201, body: upload,
  handle: ({ service, who, body, params: { id } }) => begin({ service, who }, id, body),
});

export const beginStationUpload = route({
  method: 'post', path: '/uploads', summary: 'Begins to upload a scan by the number on the cast\'s label; for scanning stations.', status: 201,
  body: upload.extend({ orderNumber: z.string().min(1).max(80), side: z.enum(['left', 'right']) }),
  handle: async ({ service, who, body: { orderNumber, side, ...body } }) => {
    const [cast] = await service.runtime.records.db.select({ id: casts.id }).from(casts).innerJoin(orders, eq(orders.id, casts.orderId))
      .where(and(eq(orders.number, orderNumber), eq(casts.side, side), inArray(casts.state, ['awaiting-scan', 'sent-back', 'to-review', 'in-work']))).orderBy(desc(casts.createdAt)).limit(1);
    if (cast === undefined) throw new Problem(404, 'no-such-cast', `No ${side} cast of order ${orderNumber} waits for a scan.`, 'Check the label, and that the cast is booked in.');
    return begin({ service, who }, cast.id, body);
  },
});

async function begin({ service: { runtime }, who }: Pick<Call, 'service' | 'who'>, castId: string, { fileName, size, ...particulars }: z.output<typeof upload>): Promise<Answer> {
  const { records: { db }, config } = runtime;
  if (size > config.uploadMaxBytes) throw new Problem(413, 'too-large', `Scans of more than ${config.uploadMaxBytes} bytes are not taken.`, 'Reduce the scan in the scanning program.');
  const [cast] = await db.select({ id: casts.id }).from(casts).where(eq(casts.id, castId));
  if (cast === undefined) throw notFound('cast');
  if (particulars.wallMm !== undefined && particulars.kind === 'positive') throw unusable([{ path: 'wallMm', message: 'a positive has no wall' }]);
  if (particulars.sha256 !== undefined) {
    const [same] = await db.select({ scanId: scans.id, revisionId: revisions.id, kind: scans.kind, unit: scans.unit, wallMm: scans.wallMm, sideOverride: scans.sideOverride })
      .from(scans).innerJoin(revisions, eq(revisions.scanId, scans.id)).where(and(eq(scans.castId, castId), eq(scans.sha256, particulars.sha256))).orderBy(desc(scans.createdAt), desc(revisions.number)).limit(1);
    if (same !== undefined && same.kind === particulars.kind && same.unit === particulars.unit && same.wallMm === (particulars.wallMm ?? null) && same.sideOverride === particulars.sideOverride) {
      return { status: 200, body: { scanId: same.scanId, revisionId: same.revisionId } };
    }
  }
  const id = randomUUID();
  const now = Date.now();
  await db.insert(uploads).values({
    id, castId, fileName, size, received: 0, particulars, personId: who.kind === 'nobody' ? null : who.id,
    createdAt: new Date(now).toISOString(), expiresAt: new Date(now + HOLDS_MS).toISOString(),
  });
  return { status: 201, body: { id, received: 0, size, partSize: PART_BYTES } };
}
