import { randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, readFile, readdir, rename, rm, stat, utimes } from 'node:fs/promises';
import { dirname, join, relative, sep } from 'node:path';
import { checkKey } from './blobs.js';
import type { BlobStat, Blobs } from './blobs.js';

/** Where what is not yet whole is written; cleared at the start of the program that owns the folder. */
export const UNFINISHED = 'unfinished';

/** Blobs as files below a folder: written beside, synchronised, then moved into place. */
export async function openFolderBlobs(folder: string): Promise<Blobs> {
  const unfinished = join(folder, UNFINISHED);
  await mkdir(unfinished, { recursive: true });
  const pathOf = (key: string): string => join(folder, ...checkKey(key).split('/'));

  const moveIn = async (from: string, key: string, durable: boolean): Promise<void> => {
    const to = pathOf(key);
    const made = await mkdir(dirname(to), { recursive: true });
    await rename(from, to);
    if (!durable) return;
    await syncFolder(dirname(to));
    if (made !== undefined) for (let at = dirname(to); at.length >= dirname(made).length; at = dirname(at)) await syncFolder(at);
  };

  return {
    put: async (key, bytes, { durable = true } = {}) => {
      const draft = join(unfinished, randomUUID());
      try {
        const file = await open(draft, 'wx');
        try {
          await file.writeFile(bytes);
          if (durable) await file.sync();
        } finally {
          await file.close();
        }
        await moveIn(draft, key, durable);
      } catch (error) {
        await rm(draft, { force: true });
        throw error;
      }
    },
    putFile: async (key, path) => {
      const file = await open(path, 'r+');
      try {
        await file.sync();
      } finally {
        await file.close();
      }
      await moveIn(path, key, true);
    },
    get: async (key, range) => {
      const found = await statOf(pathOf(key), key);
      return found === null ? null : { size: found.size, stream: createReadStream(pathOf(key), range) };
    },
    bytes: (key) => readFile(pathOf(key)).catch(nullWhereMissing),
    stat: (key) => statOf(pathOf(key), key),
    remove: (key) => rm(pathOf(key), { force: true }),
    list: (prefix) => filesBelow(folder, join(folder, ...prefix.split('/').filter((part) => part !== ''))),
    touch: async (key) => {
      await utimes(pathOf(key), new Date(), new Date()).catch(nullWhereMissing);
    },
  };
}

async function* filesBelow(root: string, folder: string): AsyncIterable<BlobStat> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(nullWhereMissing);
  for (const entry of entries ?? []) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* filesBelow(root, path);
    else {
      const found = await statOf(path, relative(root, path).split(sep).join('/'));
      if (found !== null) yield found;
    }
  }
}

async function statOf(path: string, key: string): Promise<BlobStat | null> {
  const found = await stat(path).catch(nullWhereMissing);
  return found === null || !found.isFile() ? null : { key, size: found.size, changedAtMs: found.mtimeMs };
}

/** Makes names in a folder outlast a power cut; Windows cannot open a folder and keeps names in its journal. */
async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

function nullWhereMissing(error: NodeJS.ErrnoException): null {
  if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return null;
  throw error;
}
