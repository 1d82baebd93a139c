import { readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openFolderBlobs } from '@cast-to-last/runtime/artifacts/folder-blobs';
import { openStageCache } from '@cast-to-last/runtime/revisions/stage-cache';
import { temporaryFolder } from '../../support/temporary-folder.js';

const KEYS = ['a', 'b', 'c', 'd'].map((letter) => letter.repeat(64));

async function cacheOf(maxBytes: number) {
  const folder = temporaryFolder();
  const cache = openStageCache(await openFolderBlobs(folder), maxBytes);
  const files = () => readdirSync(join(folder, 'cache'), { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name)).sort();
  return { cache, files };
}

describe('the results of stages', () => {
  it('come back as they were, arrays as arrays of their kind', async () => {
    const { cache } = await cacheOf(1e9);
    const whole = new Float64Array([1, NaN, -0, 1e-300]);
    const result = { mesh: { positions: whole.subarray(1, 3), triangles: new Uint32Array([0, 1, 2]) }, opening: null, filled: new Uint8Array(3), at: [1.5, undefined], warnings: ['é'] };
    expect(await cache.get(KEYS[0])).toBeUndefined();
    cache.put(KEYS[0], result);
    expect(await cache.settled()).toEqual([]);
    const back = await cache.get(KEYS[0]);
    expect(back).toEqual(result);
    expect(Object.is((back as typeof result).mesh.positions[1], -0)).toBe(true);
  });

  it('are not there where a file was cut short, altered, or of another form', async () => {
    const { cache, files } = await cacheOf(1e9);
    cache.put(KEYS[0], new Float64Array(100));
    await cache.settled();
    const [file] = files();
    const bytes = readFileSync(file);
    const altered = Uint8Array.from(bytes);
    altered[bytes.length - 9] ^= 1;
    for (const damaged of [bytes.subarray(0, bytes.length - 1), bytes.subarray(0, 20), new Uint8Array(0), altered, Buffer.from('another form '.repeat(20))]) {
      writeFileSync(file, damaged);
      expect(await cache.get(KEYS[0])).toBeUndefined();
    }
    writeFileSync(file, bytes);
    expect(await cache.get(KEYS[0])).toEqual(new Float64Array(100));
  });

  it('keep to their space: what was not used for longest goes', async () => {
    const { cache, files } = await cacheOf(25_000);
    cache.put(KEYS[0], new Uint8Array(10_000));
    cache.put(KEYS[1], new Uint8Array(10_000));
    await cache.settled();
    for (const file of files()) utimesSync(file, new Date(1000), new Date(1000));
    await cache.get(KEYS[0]);
    cache.put(KEYS[2], new Uint8Array(10_000));
    await cache.settled();
    expect([await cache.get(KEYS[0]), await cache.get(KEYS[1]), await cache.get(KEYS[2])].map((result) => result !== undefined)).toEqual([true, false, true]);
  });

  it('are not stored where there is no space for any', async () => {
    const { cache } = await cacheOf(0);
    cache.put(KEYS[0], 1);
    await cache.settled();
    expect(await cache.get(KEYS[0])).toBeUndefined();
  });
});
