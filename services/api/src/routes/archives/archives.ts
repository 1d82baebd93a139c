import type { Response } from 'express';
import type { ArchiveManifest } from '@cast-to-last/runtime/archives/archive-manifest';
import { customerArchive, orderArchive } from '@cast-to-last/runtime/archives/collect-archive';
import { importOrder } from '@cast-to-last/runtime/archives/import-order';
import { readArchive } from '@cast-to-last/runtime/archives/read-archive';
import { writeArchive } from '@cast-to-last/runtime/archives/write-archive';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import { asAttachment } from '../../http/file-name.js';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { streamTo } from '../../http/stream-to.js';

/** An archive holds scans and all that was made of them. */
const SCANS_IN_AN_ARCHIVE = 8;

async function send(artifacts: Artifacts, response: Response, manifest: ArchiveManifest, offeredAs: string): Promise<null> {
  response.set({ 'Content-Type': 'application/zip', 'Content-Disposition': asAttachment(offeredAs) });
  await streamTo(response, writeArchive(manifest, artifacts));
  return null;
}

export const readOrderArchive = route({
  method: 'get', path: '/orders/:id/archive', summary: 'An order with its casts, scans, results and approvals as one zip file, for another workshop; of the customer the number alone.', produces: 'application/zip',
  handle: async ({ service: { runtime: { records, artifacts } }, params: { id }, response }) => {
    const manifest = await orderArchive(records.db, id);
    if (manifest === null) throw notFound('order');
    return send(artifacts, response, manifest, `order-${manifest.rows.orders[0].number}.zip`);
  },
});

export const readCustomerArchive = route({
  method: 'get', path: '/customers/:id/archive', summary: 'All that is kept of a customer as one zip file: particulars, orders, casts, scans, results, photos, and what was done with them.', produces: 'application/zip',
  handle: async ({ service: { runtime: { records, artifacts } }, params: { id }, response }) => {
    const manifest = await customerArchive(records.db, id);
    if (manifest === null) throw notFound('customer');
    return send(artifacts, response, manifest, `customer-${manifest.rows.customers[0].number}.zip`);
  },
});

export const addArchive = route({
  method: 'post', path: '/archives', summary: 'Takes over an order from the archive whose bytes are the body; one that is here already is left as it is.', status: 201, body: 'bytes',
  handle: async ({ service: { runtime: { records, artifacts, config } }, by, request }) => {
    const maxBytes = SCANS_IN_AN_ARCHIVE * config.uploadMaxBytes;
    const { orderId, imported } = await artifacts.withFile(request, { maxBytes }, async (path) => importOrder(records, by, await readArchive(path, artifacts, { maxBytes })));
    return { status: imported ? 201 : 200, body: { orderId, imported }, headers: { Location: `/api/v1/orders/${orderId}` } };
  },
});
