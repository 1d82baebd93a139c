import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { BadArchive } from '@cast-to-last/runtime/archives/bad-archive';
import { importOrder } from '@cast-to-last/runtime/archives/import-order';
import { readArchive } from '@cast-to-last/runtime/archives/read-archive';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { restore } from '@cast-to-last/runtime/backup/restore';
import { approvals, casts, customers, decisions, orders, people, revisions, ruleSets, scans } from '@cast-to-last/runtime/records/schema';
import { openTestRecords } from '../support/open-records.js';
import { temporaryFolder } from '../support/temporary-folder.js';

/**
 * order.zip, customer.zip and backup/ were written once by the first version that wrote such files, and are never written
 * anew: an order with a photo, a scan, decisions and an approved result.
 */
const FIRST = fileURLToPath(new URL('./first-version/', import.meta.url));
const id = (n: number): string => `10000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const LIMITS = { maxBytes: 1e6 };
const FILES = ['report.json', 'last.stl', 'measures.csv'];

async function here() {
  const dataFolder = temporaryFolder();
  return { dataFolder, ...(await openStore({ dataFolder, objectStore: null })) };
}

describe('an archive of the first version', () => {
  it('of an order is taken over with all that was made and approved', async () => {
    const { dataFolder, artifacts } = await here();
    const records = await openTestRecords(dataFolder, null);
    const manifest = await readArchive(join(FIRST, 'order.zip'), artifacts, LIMITS);
    expect(await importOrder(records, { kind: 'person', id: 'p-1' }, manifest)).toEqual({ orderId: id(2), imported: true });
    const { db } = records;
    const [customer] = await db.select().from(customers);
    expect(customer).toMatchObject({ number: 'K-12', name: null, contact: null });
    expect(await db.select().from(orders)).toMatchObject([{ id: id(2), number: 'A-100', customerId: customer.id, state: 'open', content: { orderNumber: 'A-100', sides: ['left'], remarks: 'stiff upper' } }]);
    expect(await db.select().from(casts)).toMatchObject([{ id: id(3), side: 'left', state: 'approved', note: 'slipped once', drying: { how: 'in the air' }, currentRevisionId: id(7), approvedRevisionId: id(7), photos: [{ name: 'photo-1.png', type: 'image/png' }] }]);
    const [scan] = await db.select().from(scans);
    expect(scan).toMatchObject({ id: id(4), fileName: 'heel toe.stl', kind: 'positive', unit: 'auto' });
    expect((await artifacts.bytes(scan.sha256)).toString()).toMatch(/^solid cast\nfacet normal 0 0 1/);
    const [rules] = await db.select().from(ruleSets);
    expect(rules.name).toMatch(/^imported [0-9a-f]{12} house rules$/);
    // What was no rule then has its default now.
    expect(rules.content).toEqual(parseRules(rules.content));
    expect(rules.content.marks.minDepthMm).toBe(manifest.rows.rule_sets[0].content.marks.minDepthMm);
    expect(await db.select().from(decisions)).toMatchObject([{ id: id(6), content: { marks: [{ id: 'dent-1', decision: 'keep' }] } }]);
    const [revision] = await db.select().from(revisions);
    expect(revision).toMatchObject({ id: id(7), number: 1, state: 'done', origin: 'import', ruleSetId: rules.id, decisionsId: id(6) });
    expect(revision.files.map(({ name }) => name)).toEqual(FILES);
    for (const { sha256, size } of revision.files) expect((await artifacts.bytes(sha256)).length).toBe(size);
    expect(await db.select().from(approvals)).toMatchObject([{ id: id(8), revisionId: id(7), verdict: 'approved', fingerprint: revision.fingerprint }]);
  });

  it('of a customer is read with their particulars and what was done, and is no order to take over', async () => {
    const { artifacts } = await here();
    const manifest = await readArchive(join(FIRST, 'customer.zip'), artifacts, LIMITS);
    expect(manifest.rows.customers).toMatchObject([{ number: 'K-12', name: 'Customer of the hut', contact: 'a street', retainUntil: '2031-12-31' }]);
    expect(manifest.history.map(({ kind }) => kind)).toEqual(['customers.put', 'orders.put', 'casts.put', 'scans.put', 'revisions.put', 'approvals.put']);
    expect(manifest.files).toHaveLength(FILES.length + 2);
    await expect(importOrder({} as never, { kind: 'person', id: 'p-1' }, manifest)).rejects.toThrow(BadArchive);
  });
});

it('a backup of the first version becomes a service whose records and files are those of then', async () => {
  const { dataFolder, blobs, artifacts } = await here();
  // A folder in the repository is only read.
  const backup = temporaryFolder();
  cpSync(join(FIRST, 'backup'), backup, { recursive: true });
  expect(await restore({ blobs, artifacts }, backup)).toMatchObject({ schema: 1, changes: { last: 9 }, artifacts: { count: 5 } });
  const records = await openTestRecords(dataFolder, null);
  expect((await records.verify()).brokenAt).toBeNull();
  const { db } = records;
  expect(await db.select().from(people)).toMatchObject([{ name: 'maker', role: 'maker' }]);
  expect(await db.select().from(customers)).toMatchObject([{ number: 'K-12', name: 'Customer of the hut', retainUntil: '2031-12-31' }]);
  expect(await db.select().from(casts)).toMatchObject([{ id: id(3), state: 'approved', approvedRevisionId: id(7) }]);
  const [revision] = await db.select().from(revisions);
  expect(revision.files.map(({ name }) => name)).toEqual(FILES);
  for (const { sha256, size } of revision.files) expect((await artifacts.bytes(sha256)).length).toBe(size);
});
