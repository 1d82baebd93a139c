import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { z } from 'zod';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { casts, customers, orders } from '@cast-to-last/runtime/records/schema';
import { expectCurrent } from '../../http/expect-current.js';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { shownCast } from '../casts/shown-cast.js';
import { remakeCasts } from './remake-casts.js';
import { shownOrder } from './shown-order.js';
import { ORDER_STATES } from '@cast-to-last/runtime/records/states';

/** Checked by the pipeline's own reader, which names every bad key. */
const content = z.record(z.string(), z.unknown()).meta({ description: 'The order as the command line reads it; the README shows its form.' });

export const addOrder = route({
  method: 'post', path: '/orders', summary: 'Books in an order.', status: 201, body: z.strictObject({ content, customerId: z.uuid().optional() }),
  handle: async ({ service: { runtime }, by, body }) => {
    const order = parseOrder(body.content);
    const id = randomUUID();
    const row = await runtime.records.change(by, 'order.added', { table: 'orders', id }, async (draft) => {
      if (body.customerId !== undefined) await draft.expect('customers', body.customerId);
      return draft.put('orders', { id, number: order.orderNumber, customerId: body.customerId ?? null, state: 'open', content: order, discipline: order.discipline ?? null });
    });
    return { status: 201, body: shownOrder(row), version: row.version, headers: { Location: `/api/v1/orders/${id}` } };
  },
});

export const readOrder = route({
  method: 'get', path: '/orders/:id', summary: 'One order with its casts.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db.select({ order: orders, customerNumber: customers.number, customerName: customers.name }).from(orders).leftJoin(customers, eq(customers.id, orders.customerId)).where(eq(orders.id, id));
    if (row === undefined) throw notFound('order');
    const { order, customerNumber, customerName } = row;
    const theirs = await db.select().from(casts).where(eq(casts.orderId, id)).orderBy(casts.createdAt);
    return { body: { ...shownOrder(order), customerNumber, customerName, casts: theirs.map(shownCast) }, version: order.version };
  },
});

export const changeOrder = route({
  method: 'patch', path: '/orders/:id', summary: 'Changes an order; its casts are made again where what they are made by changed.', conditional: true,
  body: z.strictObject({ content, state: z.enum(ORDER_STATES), customerId: z.uuid().nullable() }).partial(),
  handle: async ({ service: { runtime }, by, params: { id }, body, ifMatch }) => {
    const version = ifMatch();
    const order = body.content === undefined ? null : parseOrder(body.content);
    const row = await runtime.records.change(by, 'order.changed', { table: 'orders', id }, async (draft) => {
      const before = await expectCurrent(draft, 'orders', id, version, shownOrder);
      if (typeof body.customerId === 'string') await draft.expect('customers', body.customerId);
      const after = await draft.put('orders', {
        ...before, state: body.state ?? before.state, customerId: body.customerId === undefined ? before.customerId : body.customerId,
        ...(order !== null && { number: order.orderNumber, content: order, discipline: order.discipline ?? null }),
      });
      if (order !== null) await remakeCasts(draft, runtime.jobs, id);
      return after;
    });
    return { body: shownOrder(row), version: row.version };
  },
});
