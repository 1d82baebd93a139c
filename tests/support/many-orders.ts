import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, customers, orders, revisions, ruleSets } from '@cast-to-last/runtime/records/schema';
import { rowId } from './row-id.ts';

const STATES = ['awaiting-scan', 'to-review', 'approved', 'sent-back', 'recast'] as const;
const CHUNK = 200;

/** Puts so many orders with a customer and two casts each straight into the tables, older than anything booked in; beside the change files, so for reading alone. */
export async function manyOrders(db: Db, count: number): Promise<void> {
  const [rules] = await db.select({ id: ruleSets.id }).from(ruleSets).limit(1);
  for (let from = 0; from < count; from += CHUNK) {
    const numbers = Array.from({ length: Math.min(CHUNK, count - from) }, (_, i) => from + i);
    const row = (i: number) => {
      const at = new Date(Date.UTC(2026, 0, 1) + i * 60_000).toISOString();
      return { version: 1, createdAt: at, changedAt: at };
    };
    await db.insert(customers).values(numbers.map((i) => ({ ...row(i), id: rowId(1, i), number: `K-${1000 + i}`, name: i % 7 === 0 ? `A customer with a very long name that goes on and on, number ${i}` : `Customer ${i}` })));
    await db.insert(orders).values(numbers.map((i) => ({ ...row(i), id: rowId(2, i), number: `many-${i}`, customerId: rowId(1, i), state: 'open' as const, content: { orderNumber: `many-${i}` }, discipline: 'clog-type' })));
    const two = numbers.flatMap((i) => (['left', 'right'] as const).map((side, s) => ({ i: 2 * i + s, orderId: rowId(2, i), side, at: i })));
    await db.insert(revisions).values(two.map(({ i, at }) => ({
      ...row(at), id: rowId(4, i), castId: rowId(3, i), scanId: rowId(5, i), ruleSetId: rules.id, number: 1, inputsSha256: `many-${i}`, origin: 'person' as const, state: 'done' as const, files: [], story: [], endedAt: row(at).createdAt,
    })));
    await db.insert(casts).values(two.map(({ i, orderId, side, at }) => {
      const state = STATES[i % STATES.length];
      return { ...row(at), id: rowId(3, i), orderId, side, state, photos: [], arrivedAt: row(at).createdAt, currentRevisionId: state === 'awaiting-scan' ? null : rowId(4, i) };
    }));
  }
}
