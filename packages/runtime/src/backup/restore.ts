import { access } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { Artifacts } from '../artifacts/artifacts.js';
import { digestIn, openArtifacts } from '../artifacts/artifacts.js';
import type { Blobs } from '../artifacts/blobs.js';
import { UNFINISHED, openFolderBlobs } from '../artifacts/folder-blobs.js';
import { changeFileKey, openChangeFiles } from '../records/changes/change-files.js';
import { BEGINNING, isSound } from '../records/changes/entry.js';
import { BACKUP_NOTE } from './back-up.js';
import type { BackupNote } from './back-up.js';

/** The backup, or the place that it shall be put to, cannot be used; the message says why and what to do. */
export class CannotRestore extends Error {
  override readonly name = 'CannotRestore';
}

/**
 * Puts a backup into an empty store of files; the database is made of it when the records are opened next. One that was cut
 * off can be run again. Throws CannotRestore, DamagedArtifact, DamagedChangeFile.
 */
export async function restore({ blobs, artifacts }: { readonly blobs: Blobs; readonly artifacts: Artifacts }, folder: string): Promise<BackupNote> {
  if (!(await access(join(folder, BACKUP_NOTE)).then(() => true, () => false))) {
    throw new CannotRestore(`${folder} holds no whole backup: there is no ${BACKUP_NOTE} in it.`);
  }
  const source = await openFolderBlobs(folder);
  const note = noteIn(folder, (await source.bytes(BACKUP_NOTE)) ?? new Uint8Array());
  await checkChain(source, note);
  await refuseOther(blobs, source);

  const kept = await openArtifacts(source, join(folder, UNFINISHED));
  let count = 0;
  for await (const { key } of source.list('artifacts/')) {
    const digest = digestIn(key);
    if (!(await artifacts.has(digest))) await artifacts.add((await kept.read(digest)).stream);
    count++;
  }
  if (count !== note.artifacts.count) throw new CannotRestore(`The backup in ${folder} has ${count} files where there were ${note.artifacts.count}; use another one.`);
  // The changes last: without them nothing names the files, and the next try begins anew.
  for (let seq = 1; seq <= note.changes.last; seq++) await blobs.put(changeFileKey(seq), (await source.bytes(changeFileKey(seq))) ?? Buffer.alloc(0));
  return note;
}

const readNote = z.object({
  schema: z.literal(1), at: z.string(), changes: z.object({ last: z.int().min(0), sha256: z.string() }), artifacts: z.object({ count: z.int().min(0), bytes: z.number().min(0) }),
});

/** The note of a backup. Throws CannotRestore where it is of another form or damaged. */
function noteIn(folder: string, bytes: Uint8Array): BackupNote {
  let value: unknown;
  try {
    value = JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    throw new CannotRestore(`${BACKUP_NOTE} in ${folder} is damaged; use another backup.`);
  }
  if (typeof value === 'object' && value !== null && 'schema' in value && value.schema !== 1) {
    throw new CannotRestore(`The backup in ${folder} is of another form; use the version of the program that made it.`);
  }
  const parsed = readNote.safeParse(value);
  if (!parsed.success) throw new CannotRestore(`${BACKUP_NOTE} in ${folder} is damaged (${parsed.error.issues.map(({ path }) => path.join('.')).join(', ')}); use another backup.`);
  return parsed.data;
}

/** Throws CannotRestore where the backup's changes are not those that its note tells of. */
async function checkChain(source: Blobs, { changes }: BackupNote): Promise<void> {
  const files = openChangeFiles(source);
  let before = BEGINNING;
  for (let seq = 1; seq <= changes.last; seq++) {
    const entry = await files.read(seq);
    if (entry === null || !isSound(entry, before)) throw new CannotRestore(`Change ${seq} of the backup is missing or not what was written; use another backup.`);
    before = entry;
  }
  if (before.sha256 !== changes.sha256) throw new CannotRestore('The last change of the backup is another than its note tells of; use another backup.');
}

/** Throws CannotRestore where the store holds changes that are not this backup's. */
async function refuseOther(blobs: Blobs, source: Blobs): Promise<void> {
  for await (const { key } of blobs.list('changes/')) {
    const [here, there] = [await blobs.bytes(key), await source.bytes(key)];
    if (here === null || there === null || !Buffer.from(here).equals(there)) {
      throw new CannotRestore('There are records in this place already. Name an empty data folder (CAST_DATA_FOLDER), database and bucket.');
    }
  }
}
