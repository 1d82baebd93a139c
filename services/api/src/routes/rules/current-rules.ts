import { and, desc, notLike } from 'drizzle-orm';
import { IMPORTED_PREFIX } from '@cast-to-last/runtime/archives/import-order';
import type { Db, Tx } from '@cast-to-last/runtime/records/database';
import { ruleSets } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { conflict } from '../../http/problem.js';

/** Rules that were only tried are kept under names of their own. */
export const TRIAL_PREFIX = 'trial ';

/** The workshop's own rules: neither tried alone nor come with an order from elsewhere. */
export const isOwn = and(notLike(ruleSets.name, `${TRIAL_PREFIX}%`), notLike(ruleSets.name, `${IMPORTED_PREFIX}%`));

/** The rules that new scans are worked by: the newest version. Throws Problem 409 where there are none. */
export async function currentRules({ tx }: { readonly tx: Db | Tx }): Promise<RowOf<'rule_sets'>> {
  const [rules] = await tx.select().from(ruleSets).where(isOwn).orderBy(desc(ruleSets.createdAt), desc(ruleSets.number)).limit(1);
  if (rules === undefined) throw conflict('no-rules', 'There is no rule set yet.', 'Let a maker add one.');
  return rules;
}
