import { eq, inArray } from 'drizzle-orm';
import { approvals, casts, customers, decisions, orders, revisions, scans } from '@cast-to-last/runtime/records/schema';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';

export const exportCustomer = route({
  method: 'get', path: '/customers/:id/export', summary: 'All that is kept of a customer, for the customer: particulars, orders, casts, scans, results, decisions and approvals; files by their addresses.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [customer] = await db.select().from(customers).where(eq(customers.id, id));
    if (customer === undefined) throw notFound('customer');
    const theirOrders = await db.select().from(orders).where(eq(orders.customerId, id));
    const theirCasts = await db.select().from(casts).where(inArray(casts.orderId, theirOrders.map((order) => order.id)));
    const castIds = theirCasts.map((cast) => cast.id);
    const theirScans = await db.select().from(scans).where(inArray(scans.castId, castIds));
    const results = await db.select().from(revisions).where(inArray(revisions.castId, castIds));
    return {
      body: {
        exportedAt: new Date().toISOString(), customer, orders: theirOrders,
        casts: theirCasts.map(({ photos, ...cast }) => ({ ...cast, photos: photos.map((photo) => ({ ...photo, address: `/api/v1/casts/${cast.id}/photos/${photo.sha256}` })) })),
        scans: theirScans,
        results: results.map(({ files, ...result }) => ({ ...result, files: files.map((file) => ({ ...file, address: `/api/v1/revisions/${result.id}/files/${file.name}` })) })),
        decisions: await db.select().from(decisions).where(inArray(decisions.scanId, theirScans.map((scan) => scan.id))),
        approvals: await db.select().from(approvals).where(inArray(approvals.castId, castIds)),
      },
      headers: { 'Content-Disposition': `attachment; filename="customer-${customer.number.replaceAll(/[^\w.-]+/g, '-')}.json"` },
    };
  },
});
