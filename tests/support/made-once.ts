import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { inject } from 'vitest';

const made = new Map<string, Promise<string>>();

/**
 * A folder that is made once in a run, for every file that asks by the same name; none of them may change it. Where two
 * processes make it at a time the one that ends first is taken.
 */
export function madeOnce(name: string, make: (folder: string) => void | Promise<void>): Promise<string> {
  const known = made.get(name);
  if (known !== undefined) return known;
  const folder = makeOrFind(join(inject('runFolder'), name), make);
  made.set(name, folder);
  return folder;
}

async function makeOrFind(folder: string, make: (folder: string) => void | Promise<void>): Promise<string> {
  if (existsSync(folder)) return folder;
  const mine = mkdtempSync(`${folder}-`);
  const content = join(mine, 'content');
  mkdirSync(content);
  try {
    await make(content);
    renameSync(content, folder);
  } catch (error) {
    if (!existsSync(folder)) throw error;
  } finally {
    rmSync(mine, { recursive: true, force: true, maxRetries: 3 });
  }
  return folder;
}
