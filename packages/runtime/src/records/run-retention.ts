import { and, asc, eq, isNull, lt } from 'drizzle-orm';
import { eraseCustomer } from './erase-customer.js';
import type { ErasureContext } from './erase-customer.js';
import { customers, orders } from './schema.js';

const PROGRAM = { kind: 'program', id: null } as const;

/** What a retention run did, by the customers' numbers. */
export interface RetentionRun {
  readonly erased: readonly string[];
  /** Past their date, with an order that is still open: a person has to close it first. */
  readonly left: readonly string[];
}

/**
 * Erases the customers whose retention date has passed, as a person would; the audit log keeps that it was done.
 *
 * @param today YYYY-MM-DD; a customer is kept through the day of the date
 */
export async function runRetention(context: ErasureContext, today: string): Promise<RetentionRun> {
  const { db } = context.records;
  const due = await db.select({ id: customers.id, number: customers.number }).from(customers).where(and(isNull(customers.erasedAt), lt(customers.retainUntil, today))).orderBy(asc(customers.retainUntil));
  const erased: string[] = [];
  const left: string[] = [];
  for (const { id, number } of due) {
    const [open] = await db.select({ id: orders.id }).from(orders).where(and(eq(orders.customerId, id), eq(orders.state, 'open'))).limit(1);
    if (open === undefined) await eraseCustomer(context, PROGRAM, id);
    (open === undefined ? erased : left).push(number);
  }
  return { erased, left };
}
