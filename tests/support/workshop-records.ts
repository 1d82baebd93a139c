import { randomUUID } from 'node:crypto';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import type { Records } from '@cast-to-last/runtime/records/records';
import type { NewRowOf, RowOf, TableName } from '@cast-to-last/runtime/records/schema';

export const MAKER = { kind: 'person', id: 'p-1' } as const;

export const putRow = <Name extends TableName>(records: Records, table: Name, row: NewRowOf<Name>): Promise<RowOf<Name>> =>
  records.change(MAKER, `${table}.put`, { table, id: row.id }, (draft) => draft.put(table, row));

/** A rule set of its own name with the defaults, but for what is given. */
export const putRules = (records: Records, changes: Partial<RuleSet> = {}): Promise<RowOf<'rule_sets'>> => {
  const id = randomUUID();
  const content = { ...DEFAULT_RULES, ...changes };
  return putRow(records, 'rule_sets', { id, name: `rules ${id}`, number: 1, content, sha256: jsonSha256(content) });
};

/** An order with one cast and its scan, whose bytes have the digest. */
export async function putScan(records: Records, stored: { readonly sha256: string; readonly size: number }, side: 'left' | 'right' = 'left'): Promise<{ castId: string; scanId: string }> {
  const [orderId, castId, scanId] = [randomUUID(), randomUUID(), randomUUID()];
  await putRow(records, 'orders', { id: orderId, number: orderId, state: 'open', content: { orderNumber: orderId } });
  await putRow(records, 'casts', { id: castId, orderId, side, state: 'awaiting-scan', photos: [] });
  await putRow(records, 'scans', { id: scanId, castId, fileName: 'cast.stl', ...stored, kind: 'positive', unit: 'auto', sideOverride: false });
  return { castId, scanId };
}
