import { describe, expect, it } from 'vitest';
import { zipOf } from '@cast-to-last/geometry/formats/zip';
import { rng } from '../../support/rng.ts';
import { unzip } from '../../support/unzip.ts';

describe('zipOf', () => {
  const random = rng(3);
  const entries = [
    { name: 'empty', bytes: new Uint8Array(0) },
    { name: 'a folder/ä.txt', bytes: new TextEncoder().encode('the same, and the same, and the same') },
    { name: 'noise', bytes: Uint8Array.from({ length: 100_000 }, () => random.below(256)) },
  ];

  it('holds the files as they were, in their order', async () => {
    const found = await unzip(await zipOf(entries, 1));
    expect([...found.keys()]).toEqual(entries.map(({ name }) => name));
    for (const { name, bytes } of entries) expect(Buffer.compare(found.get(name) as Uint8Array, bytes), name).toBe(0);
  });

  it('is the same bytes for the same files', async () => {
    expect(Buffer.compare(await zipOf(entries, 6), await zipOf(entries, 6))).toBe(0);
  });
});
