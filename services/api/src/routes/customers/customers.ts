import { randomUUID } from 'node:crypto';
import { and, eq, ilike, isNull, or } from 'drizzle-orm';
import { z } from 'zod';
import { isCalendarDate } from '@cast-to-last/pipeline/order';
import { eraseCustomer } from '@cast-to-last/runtime/records/erase-customer';
import { customers } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { instantText } from '@cast-to-last/runtime/records/instant-text';
import { expectCurrent } from '../../http/expect-current.js';
import { anywhere, newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { notFound, unusable } from '../../http/problem.js';
import { route } from '../../http/route.js';

const text = (most: number) => z.string().trim().min(1).max(most);
const particulars = {
  name: text(200).nullable(), contact: text(500).nullable(), consent: z.strictObject({ at: instantText, text: text(4000) }).nullable(),
  retainUntil: z.string().refine(isCalendarDate, 'must be a date, YYYY-MM-DD').nullable(),
};
const shown = ({ id, version, number, name, contact, consent, retainUntil, erasedAt, createdAt, changedAt }: RowOf<'customers'>) =>
  ({ id, version, number, name, contact, consent, retainUntil, erasedAt, createdAt, changedAt });

export const listCustomers = route({
  method: 'get', path: '/customers', summary: 'Customers, newest first.', query: z.strictObject({ ...pageQuery, search: z.string().min(1).max(100).optional() }),
  handle: async ({ service: { runtime: { records: { db } } }, query }) => {
    const { where, orderBy } = newestFirst(customers, query);
    const found = query.search === undefined ? undefined : or(ilike(customers.number, anywhere(query.search)), ilike(customers.name, anywhere(query.search)));
    return { body: pageOf(await db.select().from(customers).where(and(where, isNull(customers.erasedAt), found)).orderBy(...orderBy).limit(query.limit + 1), query, shown) };
  },
});

export const addCustomer = route({
  method: 'post', path: '/customers', summary: 'Adds a customer; a number is given where none is named.', status: 201, body: z.strictObject({ ...particulars, number: text(80) }).partial(),
  handle: async ({ service: { runtime }, by, body }) => {
    const id = randomUUID();
    const row = await runtime.records.change(by, 'customer.added', { table: 'customers', id }, (draft) => draft.put('customers', { id, ...body, number: body.number ?? `C-${id.slice(0, 8)}` }));
    return { status: 201, body: shown(row), version: row.version };
  },
});

export const readCustomer = route({
  method: 'get', path: '/customers/:id', summary: 'One customer.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db.select().from(customers).where(eq(customers.id, id));
    if (row === undefined) throw notFound('customer');
    return { body: shown(row), version: row.version };
  },
});

export const changeCustomer = route({
  method: 'patch', path: '/customers/:id', summary: 'Changes a customer.', body: z.strictObject({ ...particulars, number: text(80) }).partial(), conditional: true,
  handle: async ({ service: { runtime }, by, params: { id }, body, ifMatch }) => {
    const version = ifMatch();
    const row = await runtime.records.change(by, 'customer.changed', { table: 'customers', id }, async (draft) => {
      const before = await expectCurrent(draft, 'customers', id, version, shown);
      if (before.erasedAt !== null) throw notFound('customer');
      return draft.put('customers', { ...before, ...body });
    });
    return { body: shown(row), version: row.version };
  },
});

export const erase = route({
  method: 'post', path: '/customers/:id/erase', summary: 'Erases a customer with orders, casts and files; that it was done stays known. `confirm` is the customer\'s number.',
  body: z.strictObject({ confirm: z.string() }),
  handle: async ({ service: { runtime }, by, params: { id }, body: { confirm } }) => {
    const [row] = await runtime.records.db.select({ number: customers.number }).from(customers).where(eq(customers.id, id));
    if (row === undefined) throw notFound('customer');
    if (row.number !== confirm) throw unusable([{ path: 'confirm', message: 'is not the number of this customer' }]);
    await eraseCustomer(runtime, by, id);
    return {};
  },
});
