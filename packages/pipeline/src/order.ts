import { z } from 'zod';
import { CastError } from './errors.js';
import { refuseBadKeys } from './refuse-bad-keys.js';

const isoDate = z.string().refine(isCalendarDate, 'must be a date, YYYY-MM-DD');

function isCalendarDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}

const order = z.strictObject({
  /** The workshop's number; the sheet shows it. Never a name. */
  orderNumber: z.string().trim().min(1, 'must not be empty').max(80),
  /** The feet that are ordered; a scan of another side is refused. Both where absent. */
  sides: z.array(z.enum(['left', 'right'])).min(1).max(2).optional(),
  customerNumber: z.string().trim().min(1).max(80).optional(),
  /** Printed on the sheet. */
  remarks: z.string().trim().min(1).max(2000).optional(),
  /** The sheet's date; today where absent. */
  date: isoDate.optional(),
});

export type Order = z.output<typeof order>;

/** The order in a parsed JSON value. Throws CastError `bad-order` naming the path of every bad key. */
export function parseOrder(json: unknown): Order {
  const parsed = order.safeParse(json);
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-order', 'The order file', 'the README shows its form', parsed.error.issues);
}

/** Throws CastError `side-not-ordered` where the order is for the other foot alone. */
export function refuseSideNotOrdered({ orderNumber, sides }: Order, side: 'left' | 'right'): void {
  if (sides === undefined || sides.includes(side)) return;
  throw new CastError(
    'side-not-ordered',
    `Order ${orderNumber} is for the ${sides.join(' and ')} foot, but the scan was booked in as ${side}.`,
    'Check the label on the cast, then mend --side or the order file.',
  );
}
