import { desc, notLike } from 'drizzle-orm';
import type { Db, Tx } from '@cast-to-last/runtime/records/database';
import { ruleSets } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { conflict } from '../../http/problem.js';

/** Rules that were only tried are kept under names of their own. */
export const TRIAL_PREFIX = 'trial ';

export const notTried = notLike(ruleSets.name, `${TRIAL_PREFIX}%`);

/** The rules that new scans are worked by: the newest version. Throws Problem 409 where there are none. */
export async function currentRules({ tx }: { readonly tx: Db | Tx }): Promise<RowOf<'rule_sets'>> {
  const [rules] = await tx.select().from(ruleSets).where(notTried).orderBy(desc(ruleSets.createdAt), desc(ruleSets.number)).limit(1);
  if (rules === undefined) throw conflict('no-rules', 'There is no rule set yet.', 'Let a maker add one.');
  return rules;
}
