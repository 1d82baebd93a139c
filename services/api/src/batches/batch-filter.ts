import { and, desc, eq, gte, inArray, isNotNull, lte } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import { z } from 'zod';
import type { Db, Tx } from '@cast-to-last/runtime/records/database';
import { casts, orders } from '@cast-to-last/runtime/records/schema';
import { instantText } from '@cast-to-last/runtime/records/instant-text';

/** Which casts a batch is about. */
export const batchFilter = z.strictObject({
  discipline: z.string().min(1).max(60), arrivedFrom: instantText, arrivedTo: instantText,
  state: z.enum(['in-work', 'to-review', 'approved', 'sent-back']), castIds: z.array(z.uuid()).min(1).max(10_000),
}).partial();

export type BatchFilter = z.output<typeof batchFilter>;

/** Of casts joined with their orders: those of the filter that have a result. */
export const filtered = ({ discipline, arrivedFrom, arrivedTo, state, castIds }: BatchFilter): SQL | undefined => and(
  isNotNull(casts.currentRevisionId),
  discipline === undefined ? undefined : eq(orders.discipline, discipline),
  arrivedFrom === undefined ? undefined : gte(casts.arrivedAt, arrivedFrom),
  arrivedTo === undefined ? undefined : lte(casts.arrivedAt, arrivedTo),
  state === undefined ? undefined : eq(casts.state, state),
  castIds === undefined ? undefined : inArray(casts.id, castIds),
);

/** The casts that have a result, newest first. */
export async function castsFor(db: Db | Tx, filter: BatchFilter): Promise<string[]> {
  const rows = await db.select({ id: casts.id }).from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).where(filtered(filter)).orderBy(desc(casts.createdAt), desc(casts.id));
  return rows.map(({ id }) => id);
}
