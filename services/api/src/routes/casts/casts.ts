import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { z } from 'zod';
import { casts, orders } from '@cast-to-last/runtime/records/schema';
import { instantText } from '@cast-to-last/runtime/records/instant-text';
import { expectCurrent } from '../../http/expect-current.js';
import { conflict, notFound, unusable } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { shownCast } from './shown-cast.js';

const particulars = {
  arrivedAt: instantText.nullable(),
  drying: z.strictObject({ since: instantText.optional(), until: instantText.optional(), how: z.string().trim().min(1).max(200).optional() }).nullable(),
  note: z.string().trim().max(2000).nullable(),
};

export const addCast = route({
  method: 'post', path: '/orders/:id/casts', summary: 'Books in a cast of an order; `recastOfId`: in place of one that could not be used.', status: 201,
  body: z.strictObject({ ...particulars, recastOfId: z.uuid() }).partial().extend({ side: z.enum(['left', 'right']) }),
  handle: async ({ service: { runtime }, by, params: { id: orderId }, body }) => {
    const id = randomUUID();
    const cast = await runtime.records.change(by, 'cast.added', { table: 'casts', id }, async (draft) => {
      const order = await draft.expect('orders', orderId);
      if (order.state !== 'open') throw conflict('order-not-open', `Order ${order.number} is ${order.state}.`, 'Open the order again first.');
      const { sides } = order.content;
      if (sides !== undefined && !sides.includes(body.side)) throw unusable([{ path: 'side', message: `order ${order.number} is for the ${sides.join(' and ')} foot` }]);
      if (body.recastOfId !== undefined && (await draft.expect('casts', body.recastOfId)).orderId !== orderId) throw unusable([{ path: 'recastOfId', message: 'is a cast of another order' }]);
      return draft.put('casts', { id, orderId, ...body, state: 'awaiting-scan', photos: [] });
    });
    return { status: 201, body: shownCast(cast), version: cast.version, headers: { Location: `/api/v1/casts/${id}` } };
  },
});

export const readCast = route({
  method: 'get', path: '/casts/:id', summary: 'One cast.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db.select({ cast: casts, orderNumber: orders.number }).from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).where(eq(casts.id, id));
    if (row === undefined) throw notFound('cast');
    return { body: { ...shownCast(row.cast), orderNumber: row.orderNumber }, version: row.cast.version };
  },
});

export const changeCast = route({
  method: 'patch', path: '/casts/:id', summary: 'Changes what is known of a cast.', body: z.strictObject(particulars).partial(), conditional: true,
  handle: async ({ service: { runtime }, by, params: { id }, body, ifMatch }) => {
    const version = ifMatch();
    const cast = await runtime.records.change(by, 'cast.changed', { table: 'casts', id }, async (draft) =>
      draft.put('casts', { ...(await expectCurrent(draft, 'casts', id, version, shownCast)), ...body }));
    return { body: shownCast(cast), version: cast.version };
  },
});
