import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { MeasureId } from '@cast-to-last/foot/measures';
import type { Db } from '@cast-to-last/runtime/records/database';
import type { RevisionSummary } from '@cast-to-last/runtime/records/json-types';
import { casts, customers, orders, revisions, ruleSets } from '@cast-to-last/runtime/records/schema';
import { rowId } from './row-id.ts';

export const GROWN_CUSTOMER = rowId(21, 0);

/** Foot lengths of the left foot by the day of the order; the right one is 1.5 mm longer. */
export const LEFT_LENGTHS: readonly (readonly [string, number])[] = [['2019-04-02', 241.2], ['2020-10-15', 246.8], ['2022-05-09', 251.1], ['2024-03-21', 254.6], ['2026-02-11', 254.9]];

/** A customer whose feet grew, cast both sides over years; with measures and without files. Beside the change files. */
export async function feetOverYears(db: Db): Promise<void> {
  const [rules] = await db.select({ id: ruleSets.id }).from(ruleSets).limit(1);
  const row = (day: string) => ({ version: 1, createdAt: `${day}T09:00:00.000Z`, changedAt: `${day}T09:00:00.000Z` });
  await db.insert(customers).values({ ...row('2019-04-02'), id: GROWN_CUSTOMER, number: 'K-0777', name: 'A grown customer', contact: 'by post', retainUntil: '2036-01-01' });
  const own = LEFT_LENGTHS.flatMap(([day, length], i) => (['left', 'right'] as const).map((side, s) => ({ day, side, k: 2 * i + s, i, length: length + 1.5 * s })));
  await db.insert(orders).values(LEFT_LENGTHS.map(([day], i) => ({ ...row(day), id: rowId(22, i), number: `grown-${i}`, customerId: GROWN_CUSTOMER, state: 'closed' as const, content: { orderNumber: `grown-${i}`, date: day }, discipline: 'boot-type' })));
  await db.insert(revisions).values(own.map(({ k, day, length }) => ({
    ...row(day), id: rowId(24, k), castId: rowId(23, k), scanId: rowId(25, k), ruleSetId: rules.id, number: 1, inputsSha256: `grown-${k}`, origin: 'person' as const, state: 'done' as const, files: [], story: [], summary: summaryOf(length), endedAt: row(day).createdAt,
  })));
  await db.insert(casts).values(own.map(({ k, i, side, day }) => ({ ...row(day), id: rowId(23, k), orderId: rowId(22, i), side, state: 'approved' as const, photos: [], arrivedAt: row(day).createdAt, currentRevisionId: rowId(24, k), approvedRevisionId: rowId(24, k) })));
}

function summaryOf(length: number): RevisionSummary {
  const measure = (name: MeasureId, value: number, uncertainty: number) => ({ id: name, label: MEASURE_LABELS[name], value, unit: 'mm' as const, uncertainty, on: 'cast' as const, onFilled: 0 });
  return {
    verdict: 'usable', findings: [], marks: { smooth: 3, keep: 0, ask: 1 }, triangles: { scan: 100_000, last: 90_000 }, stages: [], warnings: [], sizes: {} as RevisionSummary['sizes'],
    measurements: [
      measure('foot-length', length, 0.5), measure('ball-girth', 0.93 * length, 1.1), measure('instep-girth', 0.95 * length, 1.2),
      { id: 'ankle-girth', label: MEASURE_LABELS['ankle-girth'], on: 'cast', absent: 'The cast ends below the ankle.' },
    ],
  };
}
