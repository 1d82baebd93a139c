import { eq } from 'drizzle-orm';
import type { PgTable } from 'drizzle-orm/pg-core';
import type { Tx } from '../database.js';
import { PUT_TABLES, audit, auditRows } from '../schema.js';
import type { ContentRow } from './entry.js';
import { contentOf, rowIdOf } from './entry.js';
import type { Entry } from './entry.js';

/** Puts one row, over the one of the same id, or takes one away. */
export async function applyRow(tx: Tx, row: ContentRow): Promise<void> {
  const table = PUT_TABLES[row.table];
  if ('remove' in row) {
    await tx.delete(table).where(eq(table.id, row.remove));
    return;
  }
  // The row was made for this very table; the union of tables hides that from the compiler.
  const values = row.put as never;
  await tx.insert(table as PgTable).values(values).onConflictDoUpdate({ target: table.id, set: values });
}

/** Adds an entry to the audit table. */
export async function addEntry(tx: Tx, entry: Entry): Promise<void> {
  await tx.insert(audit).values(entry);
  const touched = new Map<string, typeof auditRows.$inferInsert>();
  for (const row of contentOf(entry).rows) {
    const rowId = rowIdOf(row);
    touched.set(`${row.table} ${rowId}`, { seq: entry.seq, tableName: row.table, rowId });
  }
  if (touched.size > 0) await tx.insert(auditRows).values([...touched.values()]);
}

/** Does what an entry says, and adds it. */
export async function applyEntry(tx: Tx, entry: Entry): Promise<void> {
  for (const row of contentOf(entry).rows) await applyRow(tx, row);
  await addEntry(tx, entry);
}
