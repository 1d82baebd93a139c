import { rmSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { CastFile } from '@cast-to-last/pipeline/cast-files';
import { CAST_FILE_NAMES } from '@cast-to-last/pipeline/cast-files';
import { WrongCall } from './arguments.js';

/** Throws WrongCall where `folder` cannot be a folder; called before the work, so that a typing error costs no time. */
export async function checkFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw new WrongCall(`The folder ${folder} cannot be used: ${error.code === 'ENOTDIR' ? 'a part of its path is a file' : error.code}.`);
  });
  if (found !== null && !found.isDirectory()) throw new WrongCall(`--out ${folder} is a file, not a folder.`);
}

/**
 * Puts the files into `folder`, made where it is missing: written whole beside it first, then moved in, so that nothing
 * half-written is ever seen there. Files of an earlier cast that this one does not have are taken away.
 */
export async function writeFolder(folder: string, files: readonly CastFile[]): Promise<void> {
  const target = resolve(folder);
  await mkdir(dirname(target), { recursive: true });
  const beside = await mkdtemp(join(dirname(target), `.${basename(target)}.part-`));
  const interrupted = (signal: NodeJS.Signals): void => {
    rmSync(beside, { recursive: true, force: true });
    process.exit(signal === 'SIGINT' ? 130 : 143);
  };
  process.once('SIGINT', interrupted).once('SIGTERM', interrupted);
  try {
    for (const { name, bytes } of files) await writeFile(join(beside, name), bytes);
    await mkdir(target, { recursive: true });
    const names = new Set(files.map((f) => f.name));
    for (const name of CAST_FILE_NAMES) if (!names.has(name)) await rm(join(target, name), { force: true });
    for (const name of names) await rename(join(beside, name), join(target, name));
  } finally {
    process.off('SIGINT', interrupted).off('SIGTERM', interrupted);
    await rm(beside, { recursive: true, force: true });
  }
}
