import { expect, it } from 'vitest';
import { openFolderBlobs } from '@cast-to-last/runtime/artifacts/folder-blobs';
import { catchUp } from '@cast-to-last/runtime/records/changes/catch-up';
import { openChangeFiles } from '@cast-to-last/runtime/records/changes/change-files';
import type { Db } from '@cast-to-last/runtime/records/database';
import { openTestRecords } from '../../support/open-records.js';
import { QUIET } from '../../support/quiet-log.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { putRow } from '../../support/workshop-records.js';

// A bug that was: of two processes that begin over empty records, the slower one found files that it had not applied itself, and took them for another history.
it('a process that begins goes on where another makes the first changes after it has looked for them', async () => {
  const folder = temporaryFolder();
  const records = await openTestRecords(folder, null);
  let looked = 0;
  const slower = new Proxy(records.db, {
    get: (db, name) => {
      if (name !== 'transaction') return Reflect.get(db, name, db);
      return async (run: Parameters<Db['transaction']>[0]) => {
        const found = await db.transaction(run);
        if (looked++ === 0) for (const id of ['c-1', 'c-2']) await putRow(records, 'customers', { id, number: id });
        return found;
      };
    },
  });
  const files = openChangeFiles(await openFolderBlobs(`${folder}/files`));
  expect(await catchUp(slower, files, QUIET)).toEqual({ applied: 0, written: 0 });
  expect(looked).toBe(2);
  expect(await records.verify()).toEqual({ entries: 2, brokenAt: null });
});
