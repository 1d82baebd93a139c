import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { BadArchive } from '@cast-to-last/runtime/archives/bad-archive';
import { readArchive } from '@cast-to-last/runtime/archives/read-archive';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { soundArchive } from '../support/sound-archive.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { zipOf } from '../support/zip-of.js';

it('an archive with a packed file that has no bytes is refused and does not end the process', async () => {
  const { manifest, files } = soundArchive((nth) => `10000000-0000-4000-8000-${String(nth).padStart(12, '0')}`, '4107');
  const bytes = Buffer.from(await zipOf([['manifest.json', new TextEncoder().encode(JSON.stringify(manifest))], ...files]));
  // The central directory says of the first file after the manifest that nothing of it is kept.
  const entry = bytes.indexOf('PK\x01\x02', bytes.indexOf('PK\x01\x02') + 4);
  bytes.writeUInt32LE(0, entry + 20);
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'order.zip'), bytes);
  const { artifacts } = await openStore({ dataFolder: folder, objectStore: null });
  // A disk that takes its time to begin: meanwhile nobody reads the entry.
  const slow: typeof artifacts = { ...artifacts, add: (...call) => wait(100).then(() => artifacts.add(...call)) };
  await expect(readArchive(join(folder, 'order.zip'), slow, { maxBytes: 1e6 })).rejects.toThrow(BadArchive);
});
