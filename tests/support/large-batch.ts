import type { Db } from '@cast-to-last/runtime/records/database';
import { batchItems, batches, casts, orders, revisions, ruleSets } from '@cast-to-last/runtime/records/schema';
import { rng } from './rng.js';
import { rowId } from './row-id.ts';

const CHUNK = 250;
const AT = '2026-03-01T08:00:00.000Z';
const own = { version: 1, createdAt: AT, changedAt: AT };
export const LARGE_BATCH = rowId(19, 0);

/**
 * Puts an ended batch over so many casts straight into the tables: every tenth is refused, every fourth approved, changes
 * drawn from a seed. Beside the change files.
 */
export async function largeBatch(db: Db, count: number): Promise<void> {
  const [rules] = await db.select({ id: ruleSets.id }).from(ruleSets).limit(1);
  const { next: random } = rng(count);
  await db.insert(batches).values({ ...own, id: LARGE_BATCH, name: 'Every cast of the winter, with all its boots and skates, by the rules of the spring', ruleSetId: rules.id, filter: { castIds: Array.from({ length: count }, (_, i) => rowId(12, i)) }, state: 'ended' });
  for (let from = 0; from < count; from += CHUNK) {
    const numbers = Array.from({ length: Math.min(CHUNK, count - from) }, (_, i) => from + i);
    const refused = (i: number): boolean => i % 10 === 9;
    const revision = { ...own, ruleSetId: rules.id, scanId: rowId(15, 0), origin: 'batch' as const, files: [], story: [], endedAt: AT };
    await db.insert(orders).values(numbers.map((i) => ({ ...own, id: rowId(11, i), number: i % 50 === 3 ? `large-${i} an order number that goes on and on for as long as it may` : `large-${i}`, state: 'open' as const, content: { orderNumber: `large-${i}` } })));
    await db.insert(casts).values(numbers.map((i) => ({ ...own, id: rowId(12, i), orderId: rowId(11, i), side: i % 2 === 0 ? 'left' as const : 'right' as const, state: i % 4 === 0 ? 'approved' as const : 'to-review' as const, photos: [], currentRevisionId: rowId(13, i), approvedRevisionId: i % 4 === 0 ? rowId(13, i) : null })));
    await db.insert(revisions).values(numbers.flatMap((i) => [
      { ...revision, id: rowId(13, i), castId: rowId(12, i), number: 1, inputsSha256: `large-before-${i}`, state: 'done' as const, fingerprint: 'a'.repeat(64) },
      { ...revision, id: rowId(14, i), castId: rowId(12, i), number: 2, inputsSha256: `large-after-${i}`, state: refused(i) ? 'refused' as const : 'done' as const, fingerprint: refused(i) ? null : 'b'.repeat(64), batchId: LARGE_BATCH,
        refusal: refused(i) ? { code: 'girth-out-of-reach', message: 'The ball girth that the rules ask for cannot be reached.', remedy: 'Ask for less in last.ease.ball.' } : null },
    ]));
    await db.insert(batchItems).values(numbers.map((i) => {
      const maxMm = 0.05 + 6 * random() ** 3;
      const girth = (name: string, at: number) => ({ id: `${name}-girth`, label: `${name.replace('-', ' ')} girth`, before: at, after: at + (random() - 0.5) * maxMm });
      return {
        ...own, id: rowId(16, i), batchId: LARGE_BATCH, castId: rowId(12, i), revisionId: rowId(14, i), againstId: rowId(13, i),
        comparison: refused(i) ? null : {
          maxMm, rmsMm: maxMm / 5, girths: [girth('ball', 245), girth('waist', 248), girth('instep', 252), girth('short-heel', 320), girth('long-heel', 345)],
          marksCame: i % 7 === 0 ? [{ id: 'dent-1', kind: 'dent', centre: [100, 10, 20], depth: -1.2 }] : [], marksWent: i % 11 === 0 ? [{ id: 'bump-1', kind: 'bump', centre: [80, -10, 30], depth: 0.9 }] : [],
        },
      };
    }));
  }
}
