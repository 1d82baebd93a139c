import { and, asc, eq, isNull, lt } from 'drizzle-orm';
import { headOf } from './changes/catch-up.js';
import { eraseCustomer } from './erase-customer.js';
import type { ErasureContext } from './erase-customer.js';
import { customers, orders } from './schema.js';
import { PROGRAM } from './changes/entry.js';

const DAY_MS = 86_400_000;

/** A clock this far ahead of the newest record is not believed. */
const BELIEVED_DAYS = 31;

/** The clock is so far ahead of the newest record that nothing may be erased by it. */
export class ClockNotBelieved extends Error {
  override readonly name = 'ClockNotBelieved';
}

/** What a retention run did, by the customers' numbers. */
export interface RetentionRun {
  readonly erased: readonly string[];
  /** Past their date, with an order that is still open: a person has to close it first. */
  readonly left: readonly string[];
}

/**
 * Erases the customers whose retention date has passed, as a person would; the audit log keeps that it was done.
 *
 * Throws ClockNotBelieved where a customer is due and nothing was recorded for a month: a clock that is years ahead would
 * have all of them erased. Any change that a person makes says that the clock was looked at.
 *
 * @param today YYYY-MM-DD; a customer is kept through the day of the date
 */
export async function runRetention(context: ErasureContext, today: string): Promise<RetentionRun> {
  const { db } = context.records;
  const due = await db.select({ id: customers.id, number: customers.number }).from(customers).where(and(isNull(customers.erasedAt), lt(customers.retainUntil, today))).orderBy(asc(customers.retainUntil));
  const { at } = await headOf(db);
  if (due.length > 0 && at !== null && Date.parse(today) - Date.parse(at) > BELIEVED_DAYS * DAY_MS) {
    throw new ClockNotBelieved(`The clock says ${today}, the newest record is of ${at.slice(0, 10)}: no customer is erased until there is a newer one. Look at the clock; where it is right, book in or change anything.`);
  }
  const erased: string[] = [];
  const left: string[] = [];
  for (const { id, number } of due) {
    const [open] = await db.select({ id: orders.id }).from(orders).where(and(eq(orders.customerId, id), eq(orders.state, 'open'))).limit(1);
    if (open === undefined) await eraseCustomer(context, PROGRAM, id);
    (open === undefined ? erased : left).push(number);
  }
  return { erased, left };
}
