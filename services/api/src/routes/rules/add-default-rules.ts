import { randomUUID } from 'node:crypto';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import type { Records } from '@cast-to-last/runtime/records/records';
import { ruleSets } from '@cast-to-last/runtime/records/schema';
import { PROGRAM } from '@cast-to-last/runtime/records/changes/entry';

/** At the first start: the program's own defaults as the first rule set, so that there is one to work by. */
export async function addDefaultRules(records: Records): Promise<void> {
  const id = randomUUID();
  await records.change(PROGRAM, 'rules.added', { table: 'rule_sets', id }, async (draft) => {
    const there = await draft.tx.select({ id: ruleSets.id }).from(ruleSets).limit(1);
    if (there.length > 0) return;
    await draft.put('rule_sets', { id, name: DEFAULT_RULES.name, number: 1, content: DEFAULT_RULES, sha256: jsonSha256(DEFAULT_RULES), note: 'The defaults of the program.' });
  });
}
