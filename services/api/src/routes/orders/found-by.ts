import { ilike, or } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import { customers, orders } from '@cast-to-last/runtime/records/schema';
import { anywhere } from '../../http/page.js';

/** Orders in whose number, or whose customer's number or name, the text stands; no condition without a text. The customers are joined. */
export function foundBy(search: string | undefined): SQL | undefined {
  if (search === undefined) return undefined;
  const pattern = anywhere(search);
  return or(ilike(orders.number, pattern), ilike(customers.number, pattern), ilike(customers.name, pattern));
}
