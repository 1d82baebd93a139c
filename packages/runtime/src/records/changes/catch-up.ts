import { desc, eq, sql } from 'drizzle-orm';
import type { Log } from '../../log.js';
import type { Db, Tx } from '../database.js';
import { audit } from '../schema.js';
import { applyEntry } from './apply-entry.js';
import type { ChangeFiles } from './change-files.js';
import { BEGINNING, isSound } from './entry.js';
import type { Entry } from './entry.js';

/** The database and the change files tell different histories, or the files have a hole: a person has to choose. */
export class HistoriesDiffer extends Error {
  override readonly name = 'HistoriesDiffer';
}

/** Of advisory locks: whoever holds it writes the next entry. */
const CHAIN_LOCK = 770_002;

/** Entries applied in one transaction. */
const AT_A_TIME = 200;

/** Waits until no other process is about to add an entry; held to the end of the transaction. */
export async function holdChain(tx: Tx): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(${sql.raw(String(CHAIN_LOCK))})`);
}

/** The newest entry in the database; what stands before the first where there is none. */
export async function headOf(tx: Tx | Db): Promise<Pick<Entry, 'seq' | 'sha256'> & { readonly at: string | null }> {
  const [head] = await tx.select({ seq: audit.seq, sha256: audit.sha256, at: audit.at }).from(audit).orderBy(desc(audit.seq)).limit(1);
  return head ?? { ...BEGINNING, at: null };
}

export interface CaughtUp {
  /** Entries that the database did not have. */
  readonly applied: number;
  /** Entries of which there was no file. */
  readonly written: number;
}

/**
 * Brings the database and the change files to the same entry: what the database lacks is applied, what the files lack is
 * written. Throws HistoriesDiffer where neither is the beginning of the other.
 */
export async function catchUp(db: Db, files: ChangeFiles, log: Log): Promise<CaughtUp> {
  const head = await headOf(db);
  const written = await writeMissing(db, files, head);
  let applied = 0;
  for (;;) {
    const more = await db.transaction(async (tx) => {
      await holdChain(tx);
      return applyNext(tx, files);
    });
    applied += more;
    if (more < AT_A_TIME) break;
  }
  if (head.seq === 0) {
    // Another process may have made the first changes meanwhile; none is being made while the chain is held.
    const [highest, last] = await db.transaction(async (tx) => {
      await holdChain(tx);
      return [await files.highest(), (await headOf(tx)).seq];
    });
    if (highest > last) throw new HistoriesDiffer(`The records of changes end at ${last}, but there is one with the number ${highest}: those between are missing. Put them back from a backup.`);
  }
  if (applied > 0 || written > 0) log.warn({ applied, written, before: head.seq }, 'the database and the change files did not agree and were brought to the same entry');
  return { applied, written };
}

/** Applies the entries after the database's last, at most so many as go into one transaction; how many there were. */
export async function applyNext(tx: Tx, files: ChangeFiles): Promise<number> {
  let head: Pick<Entry, 'seq' | 'sha256'> = await headOf(tx);
  let applied = 0;
  for (; applied < AT_A_TIME; applied++) {
    const entry = await files.read(head.seq + 1);
    if (entry === null) break;
    if (!isSound(entry, head)) throw new HistoriesDiffer(`The record of change ${head.seq + 1} does not follow change ${head.seq} of the database: one of both comes from elsewhere. Put back a backup that holds both.`);
    await applyEntry(tx, entry);
    head = entry;
  }
  return applied;
}

/** Writes files for the entries at the end of which there are none. Throws where the newest that both have is not the same. */
async function writeMissing(db: Db, files: ChangeFiles, head: Pick<Entry, 'seq'>): Promise<number> {
  let written = 0;
  for (let seq = head.seq; seq > 0; seq--) {
    const [entry] = await db.select().from(audit).where(eq(audit.seq, seq));
    const file = await files.read(seq);
    if (file !== null) {
      if (file.sha256 === entry.sha256) break;
      throw new HistoriesDiffer(`Change ${seq} is another in the database than in the records of changes: one of both comes from elsewhere. Put back a backup that holds both.`);
    }
    await files.write(entry);
    written++;
  }
  return written;
}
