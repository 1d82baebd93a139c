import { cpSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { eraseCustomer, finishErasures } from '@cast-to-last/runtime/records/erase-customer';
import type { Records } from '@cast-to-last/runtime/records/records';
import { audit, casts, customers, orders, scans } from '@cast-to-last/runtime/records/schema';
import { openTestRecords } from '../../support/open-records.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { MAKER, putRow } from '../../support/workshop-records.js';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A workshop with two customers, one order, cast and scan each; one scan has the same bytes for both. */
async function workshop(folder: string) {
  const records = await openTestRecords(folder, null);
  const store = await openStore({ dataFolder: folder, objectStore: null });
  const digests: Record<string, string> = {};
  for (const who of ['first', 'second']) {
    await putRow(records, 'customers', { id: who, number: `number of ${who}`, name: `name of ${who}` });
    await putRow(records, 'orders', { id: `order of ${who}`, number: who, customerId: who, state: 'open', content: { orderNumber: who, remarks: `remarks of ${who}` } });
    const photo = await store.artifacts.add(bytesOf(`photo of ${who}`));
    await putRow(records, 'casts', { id: `cast of ${who}`, orderId: `order of ${who}`, side: 'left', state: 'awaiting-scan', photos: [{ name: 'a.jpg', type: 'image/jpeg', ...photo }] });
    const scan = await store.artifacts.add(bytesOf(`scan of ${who}`));
    await putRow(records, 'scans', { id: `scan of ${who}`, castId: `cast of ${who}`, fileName: `file of ${who}.stl`, ...scan, kind: 'positive', unit: 'mm', sideOverride: false });
    const same = await store.artifacts.add(bytesOf('the same'));
    await putRow(records, 'scans', { id: `same of ${who}`, castId: `cast of ${who}`, fileName: 'same.stl', ...same, kind: 'positive', unit: 'mm', sideOverride: false });
    Object.assign(digests, { [`photo of ${who}`]: photo.sha256, [`scan of ${who}`]: scan.sha256, same: same.sha256 });
  }
  await store.blobs.put('cache/aa/kept', bytesOf('a result'));
  return { records, digests, ...store };
}

/** All that the folder's files and the audit log say. */
async function allText(folder: string, { db }: Records): Promise<string> {
  const files = readdirSync(join(folder, 'files'), { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return [...files.map((file) => readFileSync(join(file.parentPath, file.name), 'latin1')), JSON.stringify(await db.select().from(audit))].join('\n');
}

const TRACES = ['name of first', 'remarks of first', 'photo of first', 'scan of first', 'file of first'];
const withoutIds = (text: string): string => text.replaceAll(/(\\*"(rowId|remove|id|subjectId|castId|orderId)\\*":\\*"[^"]*")/g, '');

describe('erasing a customer', () => {
  it('leaves nothing of them in tables, log and files but the number and that it was done, and nothing of another is lost', async () => {
    const folder = temporaryFolder();
    const { records, artifacts, blobs, digests } = await workshop(folder);
    const before = withoutIds(await allText(folder, records));
    for (const trace of TRACES) expect(before).toContain(trace);
    const underway = (await artifacts.add(bytesOf('stored, its row not yet written'))).sha256;
    const entriesBefore = await records.db.select({ seq: audit.seq, sha256: audit.sha256 }).from(audit).orderBy(audit.seq);

    await eraseCustomer({ records, artifacts, blobs }, MAKER, 'first');
    const after = withoutIds(await allText(folder, records));
    for (const trace of TRACES) expect(after, trace).not.toContain(trace);
    for (const trace of TRACES) expect(after).toContain(trace.replace('first', 'second'));
    expect(await records.db.select().from(customers).where(eq(customers.id, 'first'))).toMatchObject([{ number: 'number of first', name: null, erasedAt: expect.any(String) }]);
    for (const table of [orders, casts]) expect(await records.db.select({ id: table.id }).from(table)).toHaveLength(1);
    expect(await records.db.select({ id: scans.id }).from(scans)).toHaveLength(2);
    expect(await Promise.all(['photo of first', 'scan of first', 'photo of second', 'scan of second', 'same'].map((name) => artifacts.has(digests[name])))).toEqual([false, false, true, true, true]);
    expect(await artifacts.has(underway)).toBe(true);
    expect(await blobs.bytes('cache/aa/kept')).toBeNull();

    expect(await records.verify()).toEqual({ entries: 11, brokenAt: null });
    expect((await records.db.select({ seq: audit.seq, sha256: audit.sha256 }).from(audit).orderBy(audit.seq)).slice(0, 10)).toEqual(entriesBefore);
    expect(await records.db.select({ kind: audit.kind, actorId: audit.actorId, subjectId: audit.subjectId }).from(audit).where(eq(audit.seq, 11))).toEqual([{ kind: 'customer.erased', actorId: 'p-1', subjectId: 'first' }]);
  });

  it('stays done where the database is made again from the files, or is one of the day before', async () => {
    const folder = temporaryFolder();
    const { records, artifacts, blobs } = await workshop(folder);
    await records.close();
    cpSync(join(folder, 'records', 'pg'), join(folder, 'earlier'), { recursive: true });
    const again = await openTestRecords(folder, null);
    await eraseCustomer({ records: again, artifacts, blobs }, MAKER, 'first');
    const kept = await again.db.select().from(audit).orderBy(audit.seq);
    await again.close();

    for (const restore of [() => cpSync(join(folder, 'earlier'), join(folder, 'records', 'pg'), { recursive: true }), () => undefined]) {
      rmSync(join(folder, 'records', 'pg'), { recursive: true, force: true });
      restore();
      const restored = await openTestRecords(folder, null);
      await finishErasures({ records: restored, artifacts, blobs });
      expect(await restored.db.select().from(audit).orderBy(audit.seq)).toEqual(kept);
      expect(await restored.db.select({ name: customers.name }).from(customers).orderBy(customers.id)).toEqual([{ name: null }, { name: 'name of second' }]);
      expect(await restored.verify()).toEqual({ entries: 11, brokenAt: null });
      await restored.close();
    }
  });
});
