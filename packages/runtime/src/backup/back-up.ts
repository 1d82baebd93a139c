import { join } from 'node:path';
import type { Artifacts } from '../artifacts/artifacts.js';
import { digestIn, openArtifacts } from '../artifacts/artifacts.js';
import type { Blobs } from '../artifacts/blobs.js';
import { UNFINISHED, openFolderBlobs } from '../artifacts/folder-blobs.js';
import { changeFileKey, openChangeFiles } from '../records/changes/change-files.js';
import { BEGINNING } from '../records/changes/entry.js';

/** backup.json: the last thing that is written, so that a backup without it is known not to be whole. */
export interface BackupNote {
  readonly schema: 1;
  readonly at: string;
  /** The last change that it holds, with its digest; 0 where there was none. */
  readonly changes: { readonly last: number; readonly sha256: string };
  readonly artifacts: { readonly count: number; readonly bytes: number };
}

export const BACKUP_NOTE = 'backup.json';

export interface BackedUp extends BackupNote {
  /** What was not in the folder from an earlier backup. */
  readonly copied: number;
  /** What was there and is erased by now. */
  readonly removed: number;
}

/**
 * Brings a folder to the state of the store of files: change files and artifacts, of which the database can be made again.
 * The service may run meanwhile; what it changes is in the next backup. A folder with an earlier backup is brought up to
 * date, what was erased since is taken out of it. Every file is checked against its digest on the way.
 *
 * Throws DamagedArtifact, DamagedChangeFile.
 */
export async function backUp({ blobs, artifacts }: { readonly blobs: Blobs; readonly artifacts: Artifacts }, folder: string): Promise<BackedUp> {
  const target = await openFolderBlobs(folder);
  const kept = await openArtifacts(target, join(folder, UNFINISHED));
  await target.remove(BACKUP_NOTE);
  let copied = 0;
  let removed = 0;

  // Files are stored before the changes that name them: changes first, and no file is missing.
  const changes = openChangeFiles(blobs);
  let head = { last: BEGINNING.seq, sha256: BEGINNING.sha256 };
  for (let seq = 1; ; seq++) {
    const entry = await changes.read(seq);
    if (entry === null) break;
    const [from, to] = [await blobs.bytes(changeFileKey(seq)), await target.bytes(changeFileKey(seq))];
    // Of an erased customer the content was taken out.
    if (from !== null && (to === null || !Buffer.from(from).equals(to))) {
      await target.put(changeFileKey(seq), from);
      copied++;
    }
    head = { last: seq, sha256: entry.sha256 };
  }

  const there = new Map<string, number>();
  for await (const { key, size } of target.list('artifacts/')) there.set(key, size);
  let count = 0;
  let bytes = 0;
  for await (const { key, size } of blobs.list('artifacts/')) {
    count++;
    bytes += size;
    if (there.get(key) !== size) {
      const { stream } = await artifacts.read(digestIn(key));
      await kept.add(stream);
      copied++;
    }
    there.delete(key);
  }
  for (const key of there.keys()) {
    await target.remove(key);
    removed++;
  }
  const note: BackupNote = { schema: 1, at: new Date().toISOString(), changes: head, artifacts: { count, bytes } };
  await target.put(BACKUP_NOTE, Buffer.from(`${JSON.stringify(note, null, 2)}\n`));
  return { ...note, copied, removed };
}
