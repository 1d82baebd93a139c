import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, onTestFinished } from 'vitest';
import { openFolderBlobs } from '@cast-to-last/runtime/artifacts/folder-blobs';
import { openRecords } from '@cast-to-last/runtime/records/records';
import type { Records } from '@cast-to-last/runtime/records/records';
import { QUIET } from './quiet-log.js';

/**
 * Opens records for one test, with their files below `dataFolder`. Making the first database in a folder takes seconds, so
 * all tests of a file begin with copies of one.
 */
export async function openTestRecords(dataFolder: string, databaseUrl: string | null): Promise<Records> {
  if (databaseUrl === null && !existsSync(join(dataFolder, 'records'))) cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
  const records = await openRecords({ config: { dataFolder, databaseUrl }, log: QUIET, blobs: await openFolderBlobs(join(dataFolder, 'files')) });
  onTestFinished(() => records.close().catch(() => undefined));
  return records;
}

let made: Promise<string> | null = null;

/** The folder of a database with its tables and nothing in them. */
export function emptyDatabase(): Promise<string> {
  made ??= makeEmpty();
  return made;
}

async function makeEmpty(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-empty-'));
  const records = await openRecords({ config: { dataFolder: folder, databaseUrl: null }, log: QUIET, blobs: await openFolderBlobs(join(folder, 'files')) });
  await records.close();
  return join(folder, 'records');
}

afterAll(async () => {
  if (made !== null) rmSync(join(await made, '..'), { recursive: true, force: true });
});
