import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, orders } from '@cast-to-last/runtime/records/schema';
import { rowId } from './row-id.ts';

const CHUNK = 500;
const FIRST = Date.UTC(2026, 0, 1);

/** When the cast of such a number was booked in: one a second. */
export const bookedInAt = (i: number): string => new Date(FIRST + i * 1000).toISOString();

/** Puts so many orders of one cast each straight into the tables, every fourth to be reviewed; beside the change files. */
export async function manyCasts(db: Db, count: number): Promise<void> {
  for (let from = 0; from < count; from += CHUNK) {
    const numbers = Array.from({ length: Math.min(CHUNK, count - from) }, (_, i) => from + i);
    const row = (i: number) => ({ version: 1, createdAt: bookedInAt(i), changedAt: bookedInAt(i) });
    await db.insert(orders).values(numbers.map((i) => ({ ...row(i), id: rowId(21, i), number: `N-${i}`, state: 'open' as const, content: { orderNumber: `N-${i}` } })));
    await db.insert(casts).values(numbers.map((i) => ({ ...row(i), id: rowId(22, i), orderId: rowId(21, i), side: 'left' as const, state: i % 4 === 0 ? 'to-review' as const : 'approved' as const, photos: [] })));
  }
}
