import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import type { RowOf, TableName } from '@cast-to-last/runtime/records/schema';
import { stale } from './problem.js';

/** The row of `version`. Throws NoSuchRecord, and Problem 412 that shows the row as it stands where it has another version. */
export async function expectCurrent<Name extends TableName>(
  draft: ChangeDraft, table: Name, id: string, version: number, show: (row: RowOf<Name>) => unknown,
): Promise<RowOf<Name>> {
  const row = await draft.expect(table, id);
  if (row.version !== version) throw stale(table.replace(/s$/, '').replaceAll('_', ' '), show(row));
  return row;
}
