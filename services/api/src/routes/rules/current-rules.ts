import { desc } from 'drizzle-orm';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { ruleSets } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { conflict } from '../../http/problem.js';

/** The rules that new scans are worked by: the newest version. Throws Problem 409 where there are none. */
export async function currentRules({ tx }: Pick<ChangeDraft, 'tx'>): Promise<RowOf<'rule_sets'>> {
  const [rules] = await tx.select().from(ruleSets).orderBy(desc(ruleSets.createdAt), desc(ruleSets.number)).limit(1);
  if (rules === undefined) throw conflict('no-rules', 'There is no rule set yet.', 'Let a maker add one.');
  return rules;
}
