import { cpSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { BACKUP_NOTE, backUp } from '@cast-to-last/runtime/backup/back-up';
import { CannotRestore, restore } from '@cast-to-last/runtime/backup/restore';
import { eraseCustomer } from '@cast-to-last/runtime/records/erase-customer';
import { customers, scans } from '@cast-to-last/runtime/records/schema';
import { openTestRecords } from '../support/open-records.js';
import { startPostgres } from '../support/postgres-server.js';
import type { PostgresServer } from '../support/postgres-server.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { MAKER, putRow, putScan } from '../support/workshop-records.js';

let postgres: PostgresServer;
beforeAll(async () => {
  postgres = await startPostgres();
});
afterAll(() => postgres.stop());

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A workshop with a customer, and a scan of an order. */
async function workshop(databaseUrl: string | null) {
  const folder = temporaryFolder();
  const records = await openTestRecords(folder, databaseUrl);
  const store = await openStore({ dataFolder: folder, objectStore: null });
  await putRow(records, 'customers', { id: 'c-1', number: 'K-1', name: 'first name' });
  const stored = await store.artifacts.add(bytesOf('a scan'));
  const { scanId } = await putScan(records, stored);
  return { folder, records, stored, scanId, ...store };
}

/** Opens an empty place of the same kind, puts the backup there, and reads it. */
async function restored(backup: string, databaseUrl: string | null) {
  const folder = temporaryFolder();
  const store = await openStore({ dataFolder: folder, objectStore: null });
  const note = await restore(store, backup);
  return { note, records: await openTestRecords(folder, databaseUrl), ...store };
}

const DATABASES: readonly (readonly [string, () => Promise<string | null>])[] = [['in the folder', async () => null], ['on a server', () => postgres.newDatabase()]];

describe.each(DATABASES)('a backup, the database %s', (_name, newDatabase) => {
  it('is made beside the running service and becomes the same records and files elsewhere', async () => {
    const here = await workshop(await newDatabase());
    const backup = temporaryFolder();
    const first = await backUp(here, backup);
    expect(first).toMatchObject({ changes: { last: 4 }, artifacts: { count: 1, bytes: 6 }, copied: 5, removed: 0 });
    await putRow(here.records, 'customers', { id: 'c-2', number: 'K-2', name: 'second name' });
    expect(await backUp(here, backup)).toMatchObject({ changes: { last: 5 }, copied: 1, removed: 0 });

    const there = await restored(backup, await newDatabase());
    expect(await there.records.verify()).toEqual({ entries: 5, brokenAt: null });
    expect(await there.records.db.select().from(customers).orderBy(customers.id)).toEqual(await here.records.db.select().from(customers).orderBy(customers.id));
    expect(await there.records.db.select().from(scans)).toEqual(await here.records.db.select().from(scans));
    expect(Buffer.from(await there.artifacts.bytes(here.stored.sha256)).toString()).toBe('a scan');
    await putRow(there.records, 'customers', { id: 'c-3', number: 'K-3' });
    expect(await there.records.verify()).toEqual({ entries: 6, brokenAt: null });
  });
});

describe('a backup', () => {
  it('forgets what was erased since', async () => {
    const here = await workshop(null);
    const backup = temporaryFolder();
    const text = (): string => readdirSync(backup, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((file) => readFileSync(join(file.parentPath, file.name), 'latin1')).join('\n');
    await backUp(here, backup);
    expect(text()).toContain('first name');
    await eraseCustomer(here, MAKER, 'c-1');
    await here.artifacts.remove(here.stored.sha256);
    expect(await backUp(here, backup)).toMatchObject({ removed: 1, artifacts: { count: 0 } });
    expect(text()).not.toContain('first name');
    expect(text()).not.toContain('a scan');
  });

  it('is refused where it is not whole, was changed, or would go over other records', async () => {
    const here = await workshop(null);
    const backup = temporaryFolder();
    await backUp(here, backup);
    const copy = (change: (folder: string) => void): string => {
      const folder = temporaryFolder();
      cpSync(backup, folder, { recursive: true });
      change(folder);
      return folder;
    };
    const empty = async () => openStore({ dataFolder: temporaryFolder(), objectStore: null });
    const change = (folder: string): string => join(folder, 'changes', '000000000', '000000000002.json');
    await expect(restore(await empty(), copy((folder) => rmSync(join(folder, BACKUP_NOTE))))).rejects.toThrow(CannotRestore);
    await expect(restore(await empty(), copy((folder) => rmSync(change(folder))))).rejects.toThrow(/Change 2/);
    const changed = (folder: string): void => {
      const entry = JSON.parse(readFileSync(change(folder), 'utf8'));
      writeFileSync(change(folder), JSON.stringify({ ...entry, content: entry.content.replace('open', 'closed') }));
    };
    await expect(restore(await empty(), copy(changed))).rejects.toThrow(/Change 2/);
    const artifact = (folder: string): string => join(folder, 'artifacts', here.stored.sha256.slice(0, 2), here.stored.sha256);
    await expect(restore(await empty(), copy((folder) => writeFileSync(artifact(folder), 'b scan')))).rejects.toThrow(/is not what was stored/);
    await expect(restore(await empty(), copy((folder) => rmSync(artifact(folder))))).rejects.toThrow(/0 files where there were 1/);
    const other = await workshop(null);
    await expect(restore(other, backup)).rejects.toThrow(/records in this place already/);
    // One that was cut off after some changes is run again.
    const half = await empty();
    await half.blobs.put('changes/000000000/000000000001.json', readFileSync(join(backup, 'changes', '000000000', '000000000001.json')));
    expect((await restore(half, backup)).changes.last).toBe(4);
  });
});
