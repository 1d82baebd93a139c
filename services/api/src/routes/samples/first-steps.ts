import { createReadStream } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { and, eq } from 'drizzle-orm';
import { casts, orders } from '@cast-to-last/runtime/records/schema';
import { asAttachment } from '../../http/file-name.js';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { streamTo } from '../../http/stream-to.js';
import { FIRST_STEPS_ORDER, sampleScanOf } from '../../samples/add-samples.js';

/** The scans that the folder of samples has for the order of the first steps. */
async function scansIn(folder: string): Promise<{ fileName: string; side: 'left' | 'right' }[]> {
  return (await readdir(folder)).sort().flatMap((name) => sampleScanOf(name, FIRST_STEPS_ORDER) ?? []);
}

export const readFirstSteps = route({
  method: 'get', path: '/samples/first-steps', summary: 'The sample order that leads through the first steps, with its casts and the scans that go with it; null where there is none.',
  handle: async ({ service: { runtime: { records: { db } }, samples } }) => {
    if (samples === null) return { body: null };
    const [order] = await db.select({ id: orders.id, number: orders.number }).from(orders).where(and(eq(orders.number, FIRST_STEPS_ORDER), eq(orders.state, 'open')));
    if (order === undefined) return { body: null };
    const theirs = await db.select({ id: casts.id, side: casts.side, state: casts.state, currentRevisionId: casts.currentRevisionId }).from(casts).where(eq(casts.orderId, order.id)).orderBy(casts.createdAt);
    return { body: { orderId: order.id, orderNumber: order.number, casts: theirs, scans: await scansIn(samples) } };
  },
});

export const readSampleScan = route({
  method: 'get', path: '/samples/scans/:name', summary: 'A scan of the sample order for the first steps.', produces: 'application/octet-stream',
  handle: async ({ service: { samples }, params: { name }, response }) => {
    const scan = samples === null ? undefined : (await scansIn(samples)).find(({ fileName }) => fileName === name);
    if (samples === null || scan === undefined) throw notFound('sample scan');
    const path = join(samples, scan.fileName);
    response.set({ 'Content-Type': 'application/octet-stream', 'Content-Length': String((await stat(path)).size), 'Content-Disposition': asAttachment(scan.fileName) });
    await streamTo(response, createReadStream(path));
    return null;
  },
});
