import { PGlite } from '@electric-sql/pglite';
import { sql } from 'drizzle-orm';
import { drizzle as overServer } from 'drizzle-orm/node-postgres';
import { migrate as migrateServer } from 'drizzle-orm/node-postgres/migrator';
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core';
import { drizzle as overFolder } from 'drizzle-orm/pglite';
import { migrate as migrateFolder } from 'drizzle-orm/pglite/migrator';
import { existsSync } from 'node:fs';
import { mkdir, readdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import type { Log } from '../log.js';
import { lockFolder } from './folder-lock.js';

/** The database, whichever it is. */
export type Db = PgDatabase<PgQueryResultHKT, Record<string, never>>;
export type Tx = Parameters<Parameters<Db['transaction']>[0]>[0];

export interface Database {
  readonly db: Db;
  /** Puts what is there aside and begins anew; only where the program owns the database's folder. Null elsewhere. */
  readonly beginAnew: (() => Promise<Database>) | null;
  close(): Promise<void>;
}

const MIGRATIONS = fileURLToPath(new URL('../../migrations', import.meta.url));
const CASING = 'snake_case';
/** Of advisory locks: made up, alike in every process of the service. */
const MIGRATION_LOCK = 770_001;
/** Failures that say nothing of what the database holds. */
const OF_THE_MACHINE = new Set(['EACCES', 'EPERM', 'EROFS', 'ENOSPC', 'EMFILE', 'ENFILE', 'ENOMEM']);
/** PGlite has no autovacuum. */
const VACUUM_EVERY_MS = 3_600_000;

/** Connects to a PostgreSQL server and brings its tables up to date; of several processes one at a time does so. */
export async function openServerDatabase(url: string, log: Log): Promise<Database> {
  const pool = new pg.Pool({ connectionString: url, max: 10 });
  pool.on('error', (error) => log.warn({ err: error }, 'a connection to the database broke'));
  try {
    const client = await pool.connect();
    try {
      await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
      await migrateServer(overServer(client, { casing: CASING }), { migrationsFolder: MIGRATIONS });
      await client.query('SELECT pg_advisory_unlock($1)', [MIGRATION_LOCK]);
    } finally {
      client.release();
    }
  } catch (error) {
    await pool.end();
    throw error;
  }
  return { db: overServer(pool, { casing: CASING }) as unknown as Db, beginAnew: null, close: () => pool.end() };
}

/**
 * Opens the database in a folder, which this process then owns. One that cannot be opened is put aside, under a name that
 * begins with `damaged-`, and an empty one takes its place.
 *
 * Throws FolderInUse where another process owns the folder.
 */
export async function openFolderDatabase(folder: string, log: Log): Promise<Database> {
  const lock = await lockFolder(folder);
  try {
    return await openOwned(folder, log, () => lock.release());
  } catch (error) {
    lock.release();
    throw error;
  }
}

async function openOwned(folder: string, log: Log, release: () => void): Promise<Database> {
  const path = join(folder, 'pg');
  const client = await openPglite(path).catch(async (error: unknown) => {
    if (!existsSync(path) || OF_THE_MACHINE.has((error as NodeJS.ErrnoException).code ?? '')) throw error;
    log.error({ err: error }, 'the database cannot be opened; it is put aside');
    await putAside(folder);
    return openPglite(path);
  });
  const vacuum = setInterval(() => {
    client.exec('VACUUM (ANALYZE)').catch((error: unknown) => log.warn({ err: error }, 'the database was not cleaned up'));
  }, VACUUM_EVERY_MS);
  vacuum.unref();
  const stop = async (): Promise<void> => {
    clearInterval(vacuum);
    await client.close();
  };
  return {
    db: overFolder(client, { casing: CASING }) as unknown as Db,
    beginAnew: async () => {
      await stop().catch(() => undefined);
      await putAside(folder);
      return openOwned(folder, log, release);
    },
    close: async () => {
      await stop();
      release();
    },
  };
}

async function openPglite(path: string): Promise<PGlite> {
  await mkdir(path, { recursive: true });
  const client = await PGlite.create(path);
  try {
    await migrateFolder(overFolder(client, { casing: CASING }), { migrationsFolder: MIGRATIONS });
    return client;
  } catch (error) {
    await client.close().catch(() => undefined);
    throw error;
  }
}

async function putAside(folder: string): Promise<void> {
  const before = (await readdir(folder)).filter((name) => name.startsWith('damaged-')).length;
  await rename(join(folder, 'pg'), join(folder, `damaged-${before + 1}`));
}

/** Answers where the database does. */
export async function askDatabase(db: Db): Promise<void> {
  await db.execute(sql`select 1`);
}
