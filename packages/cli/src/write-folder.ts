import { constants, rmSync } from 'node:fs';
import { access, mkdir, mkdtemp, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import { WrongCall } from './wrong-call.js';

/** Throws WrongCall where `folder` cannot be a folder; called before the work, so that a typing error costs no time. */
export async function checkFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw new WrongCall(`The folder ${folder} cannot be used: ${error.code === 'ENOTDIR' ? 'a part of its path is a file' : error.code}.`);
  });
  if (found !== null && !found.isDirectory()) throw new WrongCall(`--out ${folder} is a file, not a folder.`);
}

/**
 * Where files are written before they are moved: beside the target, so that nothing is ever half there; within it where it
 * is a mounted volume, over whose edge files cannot be moved, or where its own folder may not be written.
 */
async function partPath(target: string): Promise<string> {
  const parent = dirname(target);
  await mkdir(parent, { recursive: true });
  const inside = await stat(target).then(
    async (found) => found.dev !== (await stat(parent)).dev || !(await access(parent, constants.W_OK).then(() => true, () => false)),
    () => false,
  );
  return inside ? join(target, '.part-') : join(parent, `.${basename(target)}.part-`);
}

/**
 * Puts the files into `folder`, made where it is missing: written whole elsewhere first, then moved in, so that nothing
 * half-written is ever seen there. Of `own`, the names that such a run may leave, those that this one does not have are
 * taken away: they are of an earlier cast.
 */
export async function writeFolder(folder: string, files: readonly CastFile[], own: readonly string[]): Promise<void> {
  const target = resolve(folder);
  const beside = await mkdtemp(await partPath(target));
  const interrupted = (signal: NodeJS.Signals): void => {
    rmSync(beside, { recursive: true, force: true });
    process.exit(signal === 'SIGINT' ? 130 : 143);
  };
  process.once('SIGINT', interrupted).once('SIGTERM', interrupted);
  try {
    for (const { name, bytes } of files) await writeFile(join(beside, name), bytes);
    await mkdir(target, { recursive: true });
    const names = new Set(files.map((f) => f.name));
    for (const name of own) if (!names.has(name)) await rm(join(target, name), { force: true });
    for (const name of names) await rename(join(beside, name), join(target, name));
  } finally {
    process.off('SIGINT', interrupted).off('SIGTERM', interrupted);
    await rm(beside, { recursive: true, force: true });
  }
}
