import { randomUUID } from 'node:crypto';
import { and, desc, eq, inArray, isNull } from 'drizzle-orm';
import { z } from 'zod';
import { WALL_MM } from '@cast-to-last/pipeline/shell/wall-limits';
import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, orders, revisions, scanners, scans } from '@cast-to-last/runtime/records/schema';
import { uploads } from '@cast-to-last/runtime/records/working-tables';
import type { Answer, Call } from '../../http/route.js';
import { route } from '../../http/route.js';
import { Problem, conflict, notFound, unusable } from '../../http/problem.js';

/** What is known of a scan beside its bytes. */
export const particularsSchema = z.strictObject({
  kind: z.enum(['positive', 'outside', 'inside']).default('positive'),
  unit: z.enum(['auto', 'mm', 'cm', 'm', 'in']).default('auto'),
  wallMm: z.number().min(WALL_MM.least).max(WALL_MM.most).optional(),
  sideOverride: z.boolean().default(false),
  scannerId: z.uuid().optional(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/).optional().meta({ description: 'Of the file, unpacked.' }),
  encoding: z.enum(['gzip']).optional().meta({ description: 'How the bytes that are sent are packed; the file\'s own where absent.' }),
});

const upload = particularsSchema.extend({
  fileName: z.string().trim().min(1).max(200).refine((name) => !/[\\/\p{Cc}]/u.test(name), 'must be the name of a file, without folders'),
  size: z.int().min(1, 'must be at least 1 byte').meta({ description: 'Bytes that are sent.' }),
});

/** Parts are of any size; this is what a poor line should send at a time. */
const PART_BYTES = 8 * 1024 * 1024;
const HOLDS_MS = 7 * 24 * 3_600_000;

export const beginUpload = route({
  method: 'post', path: '/casts/:id/uploads', summary: 'Begins to upload a scan of a cast.', status: 201, body: upload,
  handle: async ({ service, who, body, params: { id } }) => {
    const [cast] = await service.runtime.records.db.select({ id: casts.id }).from(casts).where(eq(casts.id, id));
    if (cast === undefined) throw notFound('cast');
    return begin({ service, who }, { castId: id }, body);
  },
});

export const beginOrderUpload = route({
  method: 'post', path: '/orders/:id/uploads', summary: 'Begins to upload a scan of an order whose cast is named when the upload is finished.', status: 201, body: upload,
  handle: async ({ service, who, body, params: { id } }) => {
    const [order] = await service.runtime.records.db.select({ number: orders.number, state: orders.state }).from(orders).where(eq(orders.id, id));
    if (order === undefined) throw notFound('order');
    if (order.state !== 'open') throw conflict('order-not-open', `Order ${order.number} is ${order.state}.`, 'Open the order again first.');
    return begin({ service, who }, { orderId: id }, body);
  },
});

export const beginStationUpload = route({
  method: 'post', path: '/uploads', summary: 'Begins to upload a scan by the number on the cast\'s label; for scanning stations.', status: 201,
  body: upload.extend({ orderNumber: z.string().min(1).max(80), side: z.enum(['left', 'right']) }),
  handle: async ({ service, who, body: { orderNumber, side, ...body } }) => {
    const [cast] = await service.runtime.records.db.select({ id: casts.id }).from(casts).innerJoin(orders, eq(orders.id, casts.orderId))
      .where(and(eq(orders.number, orderNumber), eq(casts.side, side), inArray(casts.state, ['awaiting-scan', 'sent-back', 'to-review', 'in-work']))).orderBy(desc(casts.createdAt)).limit(1);
    if (cast === undefined) throw new Problem(404, 'no-such-cast', `No ${side} cast of order ${orderNumber} waits for a scan.`, 'Check the label, and that the cast is booked in.');
    return begin({ service, who }, { castId: cast.id }, body);
  },
});

/** What an upload is of: a cast, or an order of which it will be told which cast. */
type UploadOf = { readonly castId: string } | { readonly orderId: string };

async function begin({ service: { runtime }, who }: Pick<Call, 'service' | 'who'>, of: UploadOf, { fileName, size, ...particulars }: z.output<typeof upload>): Promise<Answer> {
  const { records: { db }, config } = runtime;
  if (size > config.uploadMaxBytes) throw new Problem(413, 'too-large', `Scans of more than ${config.uploadMaxBytes} bytes are not taken.`, 'Reduce the scan in the scanning program.');
  if (particulars.wallMm !== undefined && particulars.kind === 'positive') throw unusable([{ path: 'wallMm', message: 'a positive has no wall' }]);
  if (particulars.scannerId !== undefined) await expectScanner(db, particulars.scannerId);
  const same = await sameScan(db, of, particulars);
  if (same !== null) return { status: 200, body: same };
  const id = randomUUID();
  const now = Date.now();
  await db.insert(uploads).values({
    id, ...of, fileName, size, received: 0, particulars, personId: who.kind === 'nobody' ? null : who.id,
    createdAt: new Date(now).toISOString(), expiresAt: new Date(now + HOLDS_MS).toISOString(),
  });
  return { status: 201, body: { id, received: 0, size, partSize: PART_BYTES } };
}

async function expectScanner(db: Db, scannerId: string): Promise<void> {
  const [scanner] = await db.select({ name: scanners.name, retiredAt: scanners.retiredAt }).from(scanners).where(eq(scanners.id, scannerId));
  if (scanner === undefined) throw unusable([{ path: 'scannerId', message: 'is no scanner that is known' }]);
  if (scanner.retiredAt !== null) throw conflict('scanner-retired', `The scanner "${scanner.name}" is retired.`, 'Name the scanner that the scan came from, or take this one into use again.');
}

/** Where the same bytes were worked on with the same particulars already: that scan. */
async function sameScan(db: Db, of: UploadOf, { sha256, kind, unit, wallMm, sideOverride }: z.output<typeof particularsSchema>) {
  if (sha256 === undefined) return null;
  const [same] = await db.select({ castId: casts.id, scanId: scans.id, revisionId: revisions.id })
    .from(scans).innerJoin(casts, eq(casts.id, scans.castId)).innerJoin(revisions, eq(revisions.scanId, scans.id))
    .where(and(
      'castId' in of ? eq(casts.id, of.castId) : eq(casts.orderId, of.orderId),
      eq(scans.sha256, sha256), eq(scans.kind, kind), eq(scans.unit, unit), wallMm === undefined ? isNull(scans.wallMm) : eq(scans.wallMm, wallMm), eq(scans.sideOverride, sideOverride),
    ))
    .orderBy(desc(scans.createdAt), desc(revisions.number)).limit(1);
  return same ?? null;
}
