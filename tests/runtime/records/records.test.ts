import { cpSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { count, eq, sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StaleRecord, NoSuchRecord } from '@cast-to-last/runtime/records/changes/change';
import { HistoriesDiffer } from '@cast-to-last/runtime/records/changes/catch-up';
import { changeFileKey } from '@cast-to-last/runtime/records/changes/change-files';
import { FolderInUse } from '@cast-to-last/runtime/records/folder-lock';
import type { Records } from '@cast-to-last/runtime/records/records';
import { audit, auditRows, customers, orders } from '@cast-to-last/runtime/records/schema';
import { openTestRecords } from '../../support/open-records.js';
import type { PostgresServer } from '../../support/postgres-server.js';
import { startPostgres } from '../../support/postgres-server.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const MAKER = { kind: 'person', id: 'p-1' } as const;

let postgres: PostgresServer;
beforeAll(async () => {
  postgres = await startPostgres();
});
afterAll(() => postgres.stop());

const open = openTestRecords;

const putOrder = (records: Records, number: string, remarks?: string) =>
  records.change(MAKER, 'order.put', { table: 'orders', id: `o-${number}` }, (draft) =>
    draft.put('orders', { id: `o-${number}`, number, state: 'open', content: { orderNumber: number, remarks } }));

const numbersOf = async ({ db }: Records): Promise<string[]> => (await db.select({ number: orders.number }).from(orders).orderBy(orders.number)).map((row) => row.number);

describe.each(['in the data folder', 'on a server'])('records %s', (where) => {
  const newUrl = async (): Promise<string | null> => (where === 'on a server' ? postgres.newDatabase() : null);

  it('keep rows whole, count their versions, and give instants and JSON back as they were put', async () => {
    const records = await open(temporaryFolder(), await newUrl());
    const first = await records.change(MAKER, 'customer.put', { table: 'customers', id: 'c-1' }, (draft) =>
      draft.put('customers', { id: 'c-1', number: '17', name: 'A. N. Other', consent: { at: '2026-01-02T03:04:05.678Z', text: 'yes — “oui”' }, retainUntil: '2030-12-31' }));
    const second = await records.change(MAKER, 'customer.put', { table: 'customers', id: 'c-1' }, (draft) => draft.put('customers', { id: 'c-1', number: '17', retainUntil: '2031-12-31' }));
    const [row] = await records.db.select().from(customers);
    expect(row).toEqual(second);
    expect(row).toMatchObject({ version: 2, createdAt: first.createdAt, name: null, consent: null, retainUntil: '2031-12-31' });
    expect(first.consent).toEqual({ at: '2026-01-02T03:04:05.678Z', text: 'yes — “oui”' });
    expect(row.createdAt).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
  });

  it('chain one entry a change without holes, with a file each, and find one that was altered', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, await newUrl());
    for (const number of ['1', '2', '3']) await putOrder(records, number, `remarks of ${number}`);
    await records.change(MAKER, 'nothing', { table: 'orders', id: 'o-1' }, () => Promise.resolve());
    expect(await records.verify()).toEqual({ entries: 3, brokenAt: null });
    const entries = await records.db.select().from(audit).orderBy(audit.seq);
    expect(entries.map((e) => e.seq)).toEqual([1, 2, 3]);
    for (const entry of entries) expect(JSON.parse(readFileSync(join(folder, 'files', changeFileKey(entry.seq)), 'utf8'))).toEqual(entry);
    expect(await records.db.select().from(auditRows).orderBy(auditRows.seq)).toEqual([1, 2, 3].map((seq) => ({ seq, tableName: 'orders', rowId: `o-${seq}` })));

    await expect(records.db.update(audit).set({ actorId: 'someone else' }).where(eq(audit.seq, 2))).rejects.toMatchObject({ cause: { message: expect.stringContaining('append-only') } });
    await expect(records.db.delete(audit)).rejects.toThrow();
    await records.db.execute(sql`alter table audit disable trigger audit_is_append_only`);
    await records.db.update(audit).set({ content: entries[1].content.replace('remarks of 2', 'remarks of 9') }).where(eq(audit.seq, 2));
    expect(await records.verify()).toEqual({ entries: 1, brokenAt: 2 });
  });

  it('leave nothing behind of a change that fails', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, await newUrl());
    await putOrder(records, '1');
    const failing = records.change(MAKER, 'order.put', { table: 'orders', id: 'o-2' }, async (draft) => {
      await draft.put('orders', { id: 'o-2', number: '2', state: 'open', content: { orderNumber: '2' } });
      draft.afterCommit(() => expect.unreachable());
      throw new Error('second thoughts');
    });
    await expect(failing).rejects.toThrow('second thoughts');
    await expect(putOrder(records, '1').then(() => records.change(MAKER, 'order.put', { table: 'orders', id: 'o-9' }, (draft) =>
      draft.put('orders', { id: 'o-9', number: '1', state: 'open', content: { orderNumber: '1' } })))).rejects.toThrow();
    expect(await numbersOf(records)).toEqual(['1']);
    expect(readdirSync(join(folder, 'files', 'changes', '000000000'))).toHaveLength(2);
    expect(await records.verify()).toEqual({ entries: 2, brokenAt: null });
  });

  it('refuse a row that changed meanwhile, one that is not there, and a second text of what never changes', async () => {
    const records = await open(temporaryFolder(), await newUrl());
    await putOrder(records, '1');
    await putOrder(records, '1');
    const expecting = (id: string, version?: number) => records.change(MAKER, 'order.put', { table: 'orders', id }, (draft) => draft.expect('orders', id, version));
    expect((await expecting('o-1', 2)).version).toBe(2);
    await expect(expecting('o-1', 1)).rejects.toBeInstanceOf(StaleRecord);
    await expect(expecting('o-7')).rejects.toBeInstanceOf(NoSuchRecord);
    const decide = () => records.change(MAKER, 'decisions.made', { table: 'decisions', id: 'd-1' }, (draft) =>
      draft.put('decisions', { id: 'd-1', scanId: 's-1', content: { marks: [], patches: [] }, sha256: 'a' }));
    await decide();
    await expect(decide()).rejects.toBeInstanceOf(StaleRecord);
  });

  it('make changes from many sides at once one after the other', async () => {
    const folder = temporaryFolder();
    const url = await newUrl();
    const one = await open(folder, url);
    const other = url === null ? one : await open(folder, url);
    await Promise.all(Array.from({ length: 24 }, (_, i) => putOrder(i % 2 === 0 ? one : other, String(i))));
    expect(await one.verify()).toEqual({ entries: 24, brokenAt: null });
    expect(await numbersOf(one)).toHaveLength(24);
  });

  it('are made again from the change files, removals too', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, await newUrl());
    for (let i = 0; i < 7; i++) await putOrder(records, String(i));
    await records.change(MAKER, 'order.removed', { table: 'orders', id: 'o-3' }, (draft) => draft.remove('orders', 'o-3'));
    const before = [await records.db.select().from(orders).orderBy(orders.id), await records.db.select().from(audit).orderBy(audit.seq)];
    await records.close();
    rmSync(join(folder, 'records'), { recursive: true, force: true });
    const again = await open(folder, await newUrl());
    expect(again.caughtUp).toEqual({ applied: 8, written: 0 });
    expect([await again.db.select().from(orders).orderBy(orders.id), await again.db.select().from(audit).orderBy(audit.seq)]).toEqual(before);
    expect(await again.verify()).toEqual({ entries: 8, brokenAt: null });
  });

  it('refuse records of changes with a hole, and those of another workshop', async () => {
    const folder = temporaryFolder();
    const url = await newUrl();
    const records = await open(folder, url);
    for (const number of ['1', '2', '3']) await putOrder(records, number);
    await records.close();

    const holed = temporaryFolder();
    cpSync(join(folder, 'files'), join(holed, 'files'), { recursive: true });
    rmSync(join(holed, 'files', changeFileKey(2)));
    await expect(open(holed, await newUrl())).rejects.toBeInstanceOf(HistoriesDiffer);

    const other = temporaryFolder();
    const elsewhere = await open(other, await newUrl());
    for (const number of ['7', '8', '9', '10']) await putOrder(elsewhere, number);
    await elsewhere.close();
    rmSync(join(folder, 'files'), { recursive: true });
    cpSync(join(other, 'files'), join(folder, 'files'), { recursive: true });
    await expect(open(folder, url)).rejects.toBeInstanceOf(HistoriesDiffer);
  });

  it('write files again that are missing at the end', async () => {
    const folder = temporaryFolder();
    const url = await newUrl();
    const records = await open(folder, url);
    for (const number of ['1', '2', '3']) await putOrder(records, number);
    await records.close();
    for (const seq of [2, 3]) rmSync(join(folder, 'files', changeFileKey(seq)));
    const again = await open(folder, url);
    expect(again.caughtUp).toEqual({ applied: 0, written: 2 });
    expect(JSON.parse(readFileSync(join(folder, 'files', changeFileKey(3)), 'utf8')).seq).toBe(3);
  });

  it('apply a change whose commit failed after its record was written before the next one', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, await newUrl());
    await putOrder(records, '1');
    const twin = await open(temporaryFolder(), await newUrl());
    await twin.files.write((await records.files.read(1))!);
    await putOrder(twin, '2');
    await records.files.write((await twin.files.read(2))!);
    await putOrder(records, '3');
    expect(await numbersOf(records)).toEqual(['1', '2', '3']);
    expect(await records.verify()).toEqual({ entries: 3, brokenAt: null });
  });
});

describe('records in the data folder', () => {
  it('have one owner', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, null);
    await expect(open(folder, null)).rejects.toBeInstanceOf(FolderInUse);
    await records.close();
    await open(folder, null);
  });

  it('are caught up where the database is of an older day', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, null);
    await putOrder(records, '1');
    await records.close();
    cpSync(join(folder, 'records', 'pg'), join(folder, 'older'), { recursive: true });
    const later = await open(folder, null);
    await putOrder(later, '2');
    await putOrder(later, '1', 'later');
    await later.close();
    rmSync(join(folder, 'records', 'pg'), { recursive: true });
    cpSync(join(folder, 'older'), join(folder, 'records', 'pg'), { recursive: true });
    const caughtUp = await open(folder, null);
    expect(caughtUp.caughtUp).toEqual({ applied: 2, written: 0 });
    expect(await numbersOf(caughtUp)).toEqual(['1', '2']);
    expect((await caughtUp.db.select().from(orders).where(eq(orders.number, '1')))[0].content.remarks).toBe('later');
  });

  it('are made again where the database is damaged, and the damaged one is kept', async () => {
    const folder = temporaryFolder();
    const records = await open(folder, null);
    for (const number of ['1', '2']) await putOrder(records, number);
    await records.close();
    const control = join(folder, 'records', 'pg', 'global', 'pg_control');
    writeFileSync(control, new Uint8Array(readFileSync(control).length));
    const again = await open(folder, null);
    expect(await numbersOf(again)).toEqual(['1', '2']);
    expect(readdirSync(join(folder, 'records'))).toContain('damaged-1');
    expect((await again.db.select({ n: count() }).from(audit))[0].n).toBe(2);
  });
});
