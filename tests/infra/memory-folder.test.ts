import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
// @ts-expect-error -- a script of the set-up, without types
import { memoryFolder } from '../../infra/setup/memory-folder.mjs';
import { temporaryFolder } from '../support/temporary-folder.js';

const left = (shared: string, name: string): string => {
  const folder = join(shared, name);
  mkdirSync(folder);
  writeFileSync(join(folder, 'scan.stl'), 'solid');
  return folder;
};

it('makes a folder of this process, and takes away what processes that are gone have left, and nothing else', () => {
  const shared = temporaryFolder();
  // Linux gives no process a number above 4194304.
  const gone = left(shared, 'cast-to-last-in-memory-4194305');
  const running = left(shared, `cast-to-last-in-memory-${process.ppid}`);
  const foreign = left(shared, 'of-another-program');
  const folder = memoryFolder(shared, 1);
  expect(folder).toBe(join(shared, `cast-to-last-in-memory-${process.pid}`));
  expect([folder, gone, running, foreign].map((path) => existsSync(path))).toEqual([true, false, true, true]);
});

it('makes none where too little room is left, or where the system has no such place', () => {
  const shared = temporaryFolder();
  expect(memoryFolder(shared, 1e18)).toBeNull();
  expect(memoryFolder(join(shared, 'missing'), 1)).toBeNull();
});
