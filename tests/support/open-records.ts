import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, onTestFinished } from 'vitest';
import { openFolderBlobs } from '@cast-to-last/runtime/artifacts/folder-blobs';
import { openRecords } from '@cast-to-last/runtime/records/records';
import type { Records } from '@cast-to-last/runtime/records/records';
import { customers } from '@cast-to-last/runtime/records/schema';
import { jobs, lanes } from '@cast-to-last/runtime/records/working-tables';
import { madeOnce } from './made-once.js';
import { QUIET } from './quiet-log.js';

/**
 * Opens records for one test, with their files below `dataFolder`. Making the first database in a folder takes seconds, so
 * all tests of a run begin with copies of one.
 */
export async function openTestRecords(dataFolder: string, databaseUrl: string | null): Promise<Records> {
  const records = await openOnCopy(dataFolder, databaseUrl);
  onTestFinished(() => records.close().catch(() => undefined));
  return records;
}

let common: { readonly folder: string; readonly records: Promise<Records> } | null = null;

/** One database in a folder for all tests of a file, without jobs and customers at the start of each; entries of the audit log stay. */
export async function openCommonRecords(): Promise<Records> {
  if (common === null) {
    const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-common-'));
    common = { folder, records: openOnCopy(folder, null) };
  }
  const records = await common.records;
  for (const table of [jobs, lanes, customers]) await records.db.delete(table);
  return records;
}

afterAll(async () => {
  if (common === null) return;
  await (await common.records).close();
  rmSync(common.folder, { recursive: true, force: true });
});

async function openOnCopy(dataFolder: string, databaseUrl: string | null): Promise<Records> {
  if (databaseUrl === null && !existsSync(join(dataFolder, 'records'))) cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
  return openRecords({ config: { dataFolder, databaseUrl }, log: QUIET, blobs: await openFolderBlobs(join(dataFolder, 'files')) });
}

/** The folder of a database with its tables and nothing in them, to be copied. */
export async function emptyDatabase(): Promise<string> {
  const folder = await madeOnce('empty-database', async (dataFolder) => {
    const records = await openRecords({ config: { dataFolder, databaseUrl: null }, log: QUIET, blobs: await openFolderBlobs(join(dataFolder, 'files')) });
    await records.close();
  });
  return join(folder, 'records');
}
