import { readdirSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { clearAway } from '@cast-to-last/runtime/records/clear-away';
import { sessions, uploads } from '@cast-to-last/runtime/records/working-tables';
import { openTestRecords } from '../../support/open-records.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { putRow, putScan } from '../../support/workshop-records.js';

const PAST = '2020-01-01T00:00:00.000Z';
const FUTURE = '2999-01-01T00:00:00.000Z';

async function* once(text: string): AsyncIterable<Uint8Array> {
  yield new TextEncoder().encode(text);
}

/** Makes every file below a folder old. */
function age(folder: string): void {
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) if (entry.isFile()) utimesSync(join(entry.parentPath, entry.name), new Date(0), new Date(0));
}

describe('clearing away', () => {
  it('takes uploads and sessions that ran out, drafts and files that nothing refers to, and leaves all else', async () => {
    const dataFolder = temporaryFolder();
    const records = await openTestRecords(dataFolder, null);
    const { artifacts } = await openStore({ dataFolder, objectStore: null });
    const upload = { castId: 'c', fileName: 'a.stl', size: 9, received: 3, particulars: {}, createdAt: PAST };
    await records.db.insert(uploads).values([{ id: 'open', ...upload, expiresAt: FUTURE }, { id: 'over', ...upload, expiresAt: PAST }]);
    for (const id of ['open', 'over', 'of-nobody']) await artifacts.addPart(id, 0, once('abc'));
    const session = { personId: 'p', csrf: 'c', createdAt: PAST, seenAt: PAST };
    await records.db.insert(sessions).values([{ id: 'on', sha256: 'a', ...session, expiresAt: FUTURE }, { id: 'off', sha256: 'b', ...session, expiresAt: PAST }]);
    const named = await artifacts.add(once('a scan'));
    const { castId } = await putScan(records, named);
    const photo = await artifacts.add(once('a photo'));
    await records.change({ kind: 'person', id: 'p' }, 'cast.put', { table: 'casts', id: castId }, async (draft) =>
      draft.put('casts', { ...(await draft.expect('casts', castId)), photos: [{ name: 'a.jpg', type: 'image/jpeg', ...photo }] }));
    const result = await artifacts.add(once('a result'));
    await putRow(records, 'revisions', {
      id: 'r', castId, scanId: 's', ruleSetId: 'x', number: 1, inputsSha256: 'i', origin: 'person', state: 'done', files: [{ name: 'last.stl', ...result }], story: [],
    });
    const orphan = await artifacts.add(once('of nobody'));
    age(join(dataFolder, 'files'));
    const young = await artifacts.add(once('just stored'));

    expect(await clearAway({ records, artifacts })).toBe(2);
    expect((await records.db.select({ id: uploads.id }).from(uploads)).map(({ id }) => id)).toEqual(['open']);
    expect(await Promise.all(['open', 'over', 'of-nobody'].map((id) => artifacts.received(id)))).toEqual([3, 0, 0]);
    expect((await records.db.select({ id: sessions.id }).from(sessions)).map(({ id }) => id)).toEqual(['on']);
    expect(await Promise.all([named, photo, result, orphan, young].map(({ sha256 }) => artifacts.has(sha256)))).toEqual([true, true, true, false, true]);
    expect(await clearAway({ records, artifacts })).toBe(0);
  });
});
