import { DrizzleQueryError, asc, gt } from 'drizzle-orm';
import { join } from 'node:path';
import type { Blobs } from '../artifacts/blobs.js';
import type { Config } from '../config.js';
import type { Log } from '../log.js';
import { catchUp } from './changes/catch-up.js';
import type { CaughtUp } from './changes/catch-up.js';
import { change } from './changes/change.js';
import type { ChangeDraft } from './changes/change.js';
import type { ChangeFiles } from './changes/change-files.js';
import { openChangeFiles } from './changes/change-files.js';
import { BEGINNING, isSound } from './changes/entry.js';
import type { Actor, Entry, Subject } from './changes/entry.js';
import { askDatabase, openFolderDatabase, openServerDatabase } from './database.js';
import type { Database, Db, Tx } from './database.js';
import { audit } from './schema.js';

/** The service's records: the database, and the change files that it can be made again from. */
export interface Records {
  /** For reads. Inside `change` and `transaction` only their `tx` may be used: the database in the folder has one connection. */
  readonly db: Db;
  readonly files: ChangeFiles;
  /** What had to be done at the start. */
  readonly caughtUp: CaughtUp;
  /** Makes one lasting change; durable once this resolves. Throws StaleRecord, NoSuchRecord, and what `make` throws. */
  change<T>(by: Actor, kind: string, subject: Subject, make: (draft: ChangeDraft) => Promise<T>): Promise<T>;
  /** For what is beside the changes: jobs, sessions, uploads. */
  transaction<T>(run: (tx: Tx) => Promise<T>): Promise<T>;
  /** Reads the whole audit log. */
  verify(): Promise<Verified>;
  /** Throws where the database does not answer. */
  health(): Promise<void>;
  close(): Promise<void>;
}

export interface Verified {
  readonly entries: number;
  /** The first entry that is not what was written; null where all are. */
  readonly brokenAt: number | null;
}

/**
 * Opens the records: migrations are run, a stale database is caught up from the change files, a damaged one in the data
 * folder is put aside and made again. Throws FolderInUse, HistoriesDiffer, DamagedChangeFile.
 */
export async function openRecords({ config, log, blobs }: { config: Pick<Config, 'dataFolder' | 'databaseUrl'>; log: Log; blobs: Blobs }): Promise<Records> {
  const files = openChangeFiles(blobs);
  let database = config.databaseUrl === null ? await openFolderDatabase(join(config.dataFolder, 'records'), log) : await openServerDatabase(config.databaseUrl, log);
  try {
    let caughtUp: CaughtUp;
    try {
      caughtUp = await catchUp(database.db, files, log);
    } catch (error) {
      if (database.beginAnew === null || !isOfDatabase(error)) throw error;
      log.error({ err: error }, 'the database cannot be read; it is put aside and made again from the change files');
      database = await database.beginAnew();
      caughtUp = await catchUp(database.db, files, log);
    }
    return over(database, files, caughtUp);
  } catch (error) {
    await database.close().catch(() => undefined);
    throw error;
  }
}

function over(database: Database, files: ChangeFiles, caughtUp: CaughtUp): Records {
  const { db } = database;
  return {
    db,
    files,
    caughtUp,
    change: (by, kind, subject, make) => change(db, files, by, kind, subject, make),
    transaction: (run) => db.transaction(run),
    verify: () => verifyChain(db),
    health: () => askDatabase(db),
    close: () => database.close(),
  };
}

/** Whether the database itself failed (the one in the folder is WebAssembly), and not the file store or what is in it. */
const isOfDatabase = (error: unknown): boolean => error instanceof DrizzleQueryError || (error as Error).name === 'RuntimeError';

const PAGE = 500;

async function verifyChain(db: Db): Promise<Verified> {
  let previous: Pick<Entry, 'seq' | 'sha256'> = BEGINNING;
  for (;;) {
    const page = await db.select().from(audit).where(gt(audit.seq, previous.seq)).orderBy(asc(audit.seq)).limit(PAGE);
    for (const entry of page) {
      if (!isSound(entry, previous)) return { entries: previous.seq, brokenAt: previous.seq + 1 };
      previous = entry;
    }
    if (page.length < PAGE) return { entries: previous.seq, brokenAt: null };
  }
}
