import { createHash } from 'node:crypto';
import { readdirSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openArtifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import { DamagedArtifact, NoSuchArtifact, TooLarge, WrongOffset } from '@cast-to-last/runtime/artifacts/refusals';
import type { Blobs } from '@cast-to-last/runtime/artifacts/blobs';
import { openFolderBlobs } from '@cast-to-last/runtime/artifacts/folder-blobs';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { changeFileKey, openChangeFiles } from '@cast-to-last/runtime/records/changes/change-files';
import { BEGINNING, nextEntry } from '@cast-to-last/runtime/records/changes/entry';
import type { ObjectServer } from '../support/object-server.js';
import { startObjectServer } from '../support/object-server.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const digest = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const bytesOf = (length: number): Uint8Array => Uint8Array.from({ length }, (_, i) => (i * 31 + (i >> 8)) % 251);
async function* inPieces(bytes: Uint8Array, piece: number): AsyncIterable<Uint8Array> {
  for (let i = 0; i < bytes.length; i += piece) yield bytes.subarray(i, i + piece);
}
async function* broken(bytes: Uint8Array): AsyncIterable<Uint8Array> {
  yield bytes;
  throw new Error('the line broke');
}

/** A store in a folder; `pathOf` is where it keeps a file. */
async function store() {
  const folder = temporaryFolder();
  const artifacts = await openArtifacts(await openFolderBlobs(join(folder, 'files')), join(folder, 'unfinished'));
  const pathOf = (sha256: string) => join(folder, 'files', 'artifacts', sha256.slice(0, 2), sha256);
  return { artifacts, pathOf, unfinished: () => [...readdirSync(join(folder, 'unfinished')), ...readdirSync(join(folder, 'files', 'unfinished'))] };
}

describe('the store of files', () => {
  it('names bytes and streams by their digest and gives them back, whole and in ranges', async () => {
    const { artifacts, unfinished } = await store();
    const bytes = bytesOf(300_001);
    const stored = await artifacts.add(inPieces(bytes, 7000));
    expect(stored).toEqual({ sha256: digest(bytes), size: bytes.length });
    expect(await artifacts.add(bytes)).toEqual(stored);
    expect(Buffer.compare(await artifacts.bytes(stored.sha256), bytes)).toBe(0);
    const whole = await artifacts.read(stored.sha256);
    expect([whole.size, Buffer.compare(await buffer(whole.stream), bytes)]).toEqual([bytes.length, 0]);
    const range = await artifacts.read(stored.sha256, { start: 1000, end: 1999 });
    expect([range.size, Buffer.compare(await buffer(range.stream), bytes.subarray(1000, 2000))]).toEqual([bytes.length, 0]);
    expect(unfinished()).toEqual([]);
  });

  it('stops reading where more comes than is taken, and keeps nothing of what broke off', async () => {
    const { artifacts, unfinished } = await store();
    let read = 0;
    async function* endless(): AsyncIterable<Uint8Array> {
      for (;;) {
        read += 1000;
        yield new Uint8Array(1000);
      }
    }
    await expect(artifacts.add(endless(), { maxBytes: 10_000 })).rejects.toBeInstanceOf(TooLarge);
    expect(read).toBe(11_000);
    await expect(artifacts.add(broken(bytesOf(10)))).rejects.toThrow('the line broke');
    expect(unfinished()).toEqual([]);
  });

  it('finds a file that is not what was stored, and mends it where the same bytes come again', async () => {
    const { artifacts, pathOf } = await store();
    const { sha256 } = await artifacts.add(bytesOf(5000));
    writeFileSync(pathOf(sha256), bytesOf(4999));
    await expect(artifacts.bytes(sha256)).rejects.toBeInstanceOf(DamagedArtifact);
    await expect(artifacts.read(sha256).then(({ stream }) => buffer(stream))).rejects.toBeInstanceOf(DamagedArtifact);
    await artifacts.add(inPieces(bytesOf(5000), 999));
    expect((await artifacts.bytes(sha256)).length).toBe(5000);
  });

  it('says that it has no such file, and takes no path for a digest', async () => {
    const { artifacts } = await store();
    expect(await artifacts.has('0'.repeat(64))).toBe(false);
    for (const name of ['0'.repeat(64), '../../etc/passwd', '']) await expect(artifacts.bytes(name)).rejects.toBeInstanceOf(NoSuchArtifact);
    await expect(artifacts.read('0'.repeat(64))).rejects.toBeInstanceOf(NoSuchArtifact);
  });

  it('goes on with an upload where the line broke', async () => {
    const { artifacts, unfinished } = await store();
    const bytes = bytesOf(50_000);
    await expect(artifacts.addPart('u-1', 0, broken(bytes.subarray(0, 20_000)))).rejects.toThrow('the line broke');
    expect(await artifacts.received('u-1')).toBe(20_000);
    await expect(artifacts.addPart('u-1', 0, inPieces(bytes, 1000))).rejects.toMatchObject({ constructor: WrongOffset, received: 20_000 });
    await expect(artifacts.addPart('u-1', 20_000, inPieces(bytes.subarray(20_000), 1000), { maxBytes: 49_999 })).rejects.toBeInstanceOf(TooLarge);
    const before = await artifacts.received('u-1');
    expect(await artifacts.addPart('u-1', before, inPieces(bytes.subarray(before), 1000), { maxBytes: 50_000 })).toBe(50_000);
    expect(await artifacts.finishParts('u-1')).toEqual({ sha256: digest(bytes), size: 50_000 });
    expect(unfinished()).toEqual([]);
    await artifacts.addPart('u-2', 0, inPieces(bytes, 1000));
    await artifacts.dropParts('u-2');
    expect(await artifacts.received('u-2')).toBe(0);
  });

  it('clears away what nothing refers to, once it is old', async () => {
    const { artifacts, pathOf } = await store();
    const kept = (await artifacts.add(bytesOf(1))).sha256;
    const young = (await artifacts.add(bytesOf(2))).sha256;
    const old = (await artifacts.add(bytesOf(3))).sha256;
    for (const sha256 of [kept, old]) utimesSync(pathOf(sha256), new Date(0), new Date(0));
    expect(await artifacts.removeOrphans((sha256) => sha256 === kept, 60_000)).toBe(1);
    expect(await Promise.all([kept, young, old].map((sha256) => artifacts.has(sha256)))).toEqual([true, true, false]);
    expect(statSync(pathOf(kept)).size).toBe(1);
  });
});

describe('the store of files in an object store', () => {
  let server: ObjectServer;
  beforeAll(async () => {
    server = await startObjectServer();
  }, 240_000);
  afterAll(() => server?.stop());

  /** The store with nothing in it. */
  async function objectStore() {
    const { artifacts, blobs } = await openStore({ dataFolder: temporaryFolder(), objectStore: server.config });
    for (const key of await keysOf(blobs)) await blobs.remove(key);
    return { artifacts, blobs };
  }
  async function keysOf(blobs: Blobs): Promise<string[]> {
    const keys: string[] = [];
    for (const prefix of ['artifacts/', 'changes/', 'cache/']) for await (const { key } of blobs.list(prefix)) keys.push(key);
    return keys;
  }

  it('keeps streams and bytes, and gives them back whole, in ranges, and checked', async () => {
    const { artifacts, blobs } = await objectStore();
    const bytes = bytesOf(200_001);
    const stored = await artifacts.add(inPieces(bytes, 7000));
    expect(stored).toEqual({ sha256: digest(bytes), size: bytes.length });
    expect(await artifacts.add(bytes)).toEqual(stored);
    expect(await keysOf(blobs)).toEqual([`artifacts/${stored.sha256.slice(0, 2)}/${stored.sha256}`]);
    expect(Buffer.compare(await artifacts.bytes(stored.sha256), bytes)).toBe(0);
    const range = await artifacts.read(stored.sha256, { start: 1000, end: 1999 });
    expect([range.size, Buffer.compare(await buffer(range.stream), bytes.subarray(1000, 2000))]).toEqual([bytes.length, 0]);
    await blobs.put((await keysOf(blobs))[0], bytesOf(10));
    await expect(artifacts.bytes(stored.sha256)).rejects.toBeInstanceOf(DamagedArtifact);
    await expect(artifacts.read(stored.sha256).then(({ stream }) => buffer(stream))).rejects.toBeInstanceOf(DamagedArtifact);
  });

  it('says what is not there, lists over pages, and clears away', async () => {
    const { artifacts, blobs } = await objectStore();
    expect([await artifacts.has('0'.repeat(64)), await blobs.bytes('cache/none'), await blobs.stat('cache/none')]).toEqual([false, null, null]);
    const digests: string[] = [];
    for (let i = 0; i < 5; i++) digests.push((await artifacts.add(bytesOf(i + 1))).sha256);
    const listed: [string, number][] = [];
    for await (const { key, size } of blobs.list('artifacts/')) listed.push([key.slice(-64), size]);
    expect(listed.sort()).toEqual(digests.map((sha256, i) => [sha256, i + 1]).sort());
    // The store tells times in whole seconds, rounded up.
    expect(await artifacts.removeOrphans((sha256) => sha256 === digests[2], -2000)).toBe(4);
    expect(await Promise.all(digests.map((sha256) => artifacts.has(sha256)))).toEqual([false, false, true, false, false]);
  });

  it('keeps the change files of the records', async () => {
    const { blobs } = await objectStore();
    const files = openChangeFiles(blobs);
    const entry = nextEntry(BEGINNING, '2026-01-02T03:04:05.678Z', { kind: 'person', id: 'p' }, 'order.put', { table: 'orders', id: 'o' }, { rows: [] });
    await files.write(entry);
    expect([await files.read(1), await files.has(1), await files.read(2), await files.has(2), await files.highest()]).toEqual([entry, true, null, false, 1]);
    expect(await keysOf(blobs)).toEqual([changeFileKey(1)]);
  });

  it('tells of a wrong key and of a bucket that is not there', async () => {
    for (const wrong of [{ secretKey: 'another' }, { bucket: 'elsewhere' }]) {
      const { artifacts } = await openStore({ dataFolder: temporaryFolder(), objectStore: { ...server.config, ...wrong } });
      await expect(artifacts.add(bytesOf(3))).rejects.toThrow();
      await expect(artifacts.bytes('0'.repeat(64))).rejects.toThrow(expect.not.objectContaining({ name: 'NoSuchArtifact' }));
    }
  });
});
