import { eq, gt, lt, or, sql } from 'drizzle-orm';
import type { Records } from '@cast-to-last/runtime/records/records';
import { signInTries } from '@cast-to-last/runtime/records/working-tables';
import { Problem } from '../http/problem.js';
import { digestOf } from './secrets.js';

/** So many tries are free for one name and for one address; each one more doubles the wait. */
const FREE = { name: 5, address: 30 } as const;
const FIRST_WAIT_MS = 15_000;
const LONGEST_WAIT_MS = 15 * 60_000;
/** Tries older than this are forgotten. */
const MEMORY_MS = 3_600_000;

const keysOf = (name: string, address: string) => [
  { key: `name:${digestOf(name.toLowerCase())}`, free: FREE.name }, { key: `address:${digestOf(address)}`, free: FREE.address },
];

/** Counts a try before it is made, so that many at once are all counted. Throws Problem 429 with Retry-After. */
export async function countTry(records: Records, name: string, address: string): Promise<void> {
  const now = Date.now();
  const waitMs = await records.transaction(async (tx) => {
    // Tries of a time to come were counted under a clock that was set back since.
    await tx.delete(signInTries).where(or(lt(signInTries.since, new Date(now - MEMORY_MS).toISOString()), gt(signInTries.since, new Date(now + MEMORY_MS).toISOString())));
    let wait = 0;
    for (const { key, free } of keysOf(name, address)) {
      const [row] = await tx.select().from(signInTries).where(eq(signInTries.key, key)).for('update');
      const blockedMs = row?.blockedUntil == null ? 0 : Math.min(LONGEST_WAIT_MS, Date.parse(row.blockedUntil) - now);
      if (blockedMs > 0) {
        wait = Math.max(wait, blockedMs);
        continue;
      }
      const count = (row?.count ?? 0) + 1;
      const next = count < free ? null : new Date(now + Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (count - free))).toISOString();
      await tx.insert(signInTries).values({ key, count, since: new Date(now).toISOString(), blockedUntil: next })
        .onConflictDoUpdate({ target: signInTries.key, set: { count: sql`${signInTries.count} + 1`, since: new Date(now).toISOString(), blockedUntil: next } });
    }
    return wait;
  });
  if (waitMs === 0) return;
  const seconds = Math.ceil(waitMs / 1000);
  throw new Problem(429, 'too-many-tries', 'Too many tries to sign in.', `Wait ${seconds} seconds and try again.`, { headers: { 'Retry-After': String(seconds) } });
}

/** After a sign-in that succeeded the name's tries are forgotten; those of the address stay, or one account would open the way to others. */
export async function forgetTries({ db }: Records, name: string): Promise<void> {
  await db.delete(signInTries).where(eq(signInTries.key, keysOf(name, '')[0].key));
}
