import { eq } from 'drizzle-orm';
import type { Db, Tx } from '../database.js';
import { IMMUTABLE, PUT_TABLES } from '../schema.js';
import type { NewRowOf, RowOf, TableName } from '../schema.js';
import { addEntry, applyRow } from './apply-entry.js';
import { applyNext, headOf, holdChain } from './catch-up.js';
import type { ChangeFiles } from './change-files.js';
import { nextEntry } from './entry.js';
import type { Actor, ContentRow, Subject } from './entry.js';

/** There is no such row. */
export class NoSuchRecord extends Error {
  override readonly name = 'NoSuchRecord';
}

/** The row changed since it was read, or may not change at all. */
export class StaleRecord extends Error {
  override readonly name = 'StaleRecord';
}

/** A change while it is made. */
export interface ChangeDraft {
  /** For reads, and for what goes into the same transaction without being part of the change; the only way to the database here. */
  readonly tx: Tx;
  /** The one instant of this change. */
  readonly at: string;
  /** Puts a whole row, over the one with the same id where there is one; `since` is when one was made that comes from elsewhere. */
  put<Name extends TableName>(table: Name, row: NewRowOf<Name>, since?: string): Promise<RowOf<Name>>;
  remove(table: TableName, id: string): Promise<void>;
  /** The row as it stands. Throws NoSuchRecord, and StaleRecord where `version` is given and is not its version. */
  expect<Name extends TableName>(table: Name, id: string, version?: number): Promise<RowOf<Name>>;
  /** Run once the change is acknowledged. */
  afterCommit(run: () => void): void;
}

/**
 * Makes one change: rows, audit entry and change file, in that order, in one transaction. It is durable once this
 * resolves. Where `make` puts nothing there is no entry.
 */
export async function change<T>(
  db: Db, files: ChangeFiles, by: Actor, kind: string, subject: Subject, make: (draft: ChangeDraft) => Promise<T>,
): Promise<T> {
  const after: (() => void)[] = [];
  const result = await db.transaction(async (tx) => {
    await holdChain(tx);
    // A file ahead of the database is that of a change whose commit failed after it was written.
    while ((await applyNext(tx, files)) > 0);
    const head = await headOf(tx);
    const at = instantAfter(head.at);
    const rows: ContentRow[] = [];
    const made = await make(draftOn(tx, at, rows, after));
    if (rows.length > 0) {
      const entry = nextEntry(head, at, by, kind, subject, { rows });
      await addEntry(tx, entry);
      await files.write(entry);
    }
    return made;
  });
  for (const run of after) run();
  return result;
}

/** Now, but always after the change before: the newest of two rows is the one that was put last, whatever clocks do. */
const instantAfter = (before: string | null): string => new Date(Math.max(Date.now(), before === null ? 0 : Date.parse(before) + 1)).toISOString();

function draftOn(tx: Tx, at: string, rows: ContentRow[], after: (() => void)[]): ChangeDraft {
  const find = async <Name extends TableName>(name: Name, id: string): Promise<RowOf<Name> | null> => {
    const table = PUT_TABLES[name];
    const [row] = await tx.select().from(table as (typeof PUT_TABLES)['people']).where(eq(table.id, id));
    return (row as RowOf<Name> | undefined) ?? null;
  };
  return {
    tx,
    at,
    put: async (table, row, since = at) => {
      const before = await find(table, row.id);
      if (before !== null && IMMUTABLE.has(table)) throw new StaleRecord(`Rows of ${table} never change; ${row.id} is there already.`);
      const whole = { ...emptied(table), ...row, version: (before?.version ?? 0) + 1, createdAt: before?.createdAt ?? since, changedAt: at };
      await applyRow(tx, { table, put: whole });
      rows.push({ table, put: whole });
      return whole as unknown as RowOf<typeof table>;
    },
    remove: async (table, id) => {
      await applyRow(tx, { table, remove: id });
      rows.push({ table, remove: id });
    },
    expect: async (table, id, version) => {
      const row = await find(table, id);
      if (row === null) throw new NoSuchRecord(`There is no ${id} in ${table}.`);
      if (version !== undefined && row.version !== version) throw new StaleRecord(`${id} in ${table} is at version ${row.version}, not ${version}.`);
      return row;
    },
    afterCommit: (run) => after.push(run),
  };
}

/** Null for every column that may be: what a row leaves out is emptied, never kept from the row before. */
function emptied(name: TableName): Record<string, null> {
  const columns = Object.entries(PUT_TABLES[name]).filter(([, column]) => typeof column === 'object' && column !== null && 'notNull' in column && !column.notNull);
  return Object.fromEntries(columns.map(([key]) => [key, null]));
}
