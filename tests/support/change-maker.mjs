import { join } from 'node:path';
import { openFolderBlobs } from '../../packages/runtime/dist/artifacts/folder-blobs.js';
import { openLog } from '../../packages/runtime/dist/log.js';
import { openRecords } from '../../packages/runtime/dist/records/records.js';

/** A program that puts orders FIRST, FIRST + 1 … without an end and says each number once it is acknowledged: change-maker.mjs FOLDER FIRST. */
const [dataFolder, first] = process.argv.slice(2);
const log = openLog({ logLevel: 'silent' }, 'change-maker');
const records = await openRecords({ config: { dataFolder, databaseUrl: null }, log, blobs: await openFolderBlobs(join(dataFolder, 'files')) });
for (let n = Number(first); ; n++) {
  const id = `o-${n}`;
  await records.change({ kind: 'person', id: 'p-1' }, 'order.put', { table: 'orders', id }, (draft) =>
    draft.put('orders', { id, number: String(n), state: 'open', content: { orderNumber: String(n) } }));
  process.stdout.write(`${n}\n`);
}
