import { mkdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
// @ts-expect-error -- a script of the set-up, without types
import { pagesAreFresh } from '../../infra/setup/set-up.mjs';
import { temporaryFolder } from '../support/temporary-folder.js';

let root = '';
const PAGES = 'services/review/dist/index.html';
const FILES = ['services/review/index.html', 'services/review/vite.config.ts', 'services/review/src/app/app.tsx', 'services/review/public/icon.svg', 'package-lock.json', 'packages/geometry/src/mesh/mesh.ts'];

/** Sets when a file or folder was last written, in seconds of a time of our own. */
const written = (path: string, at: number): void => utimesSync(join(root, path), at, at);

beforeEach(() => {
  root = temporaryFolder();
  for (const path of [...FILES, PAGES]) {
    mkdirSync(join(root, dirname(path)), { recursive: true });
    writeFileSync(join(root, path), '');
  }
  for (const path of [...FILES, ...FILES.map(dirname), 'services/review/src', 'packages/geometry/src']) written(path, 1000);
  written(PAGES, 2000);
});

describe('whether the pages are built anew', () => {
  it('they are not where nothing that they are made of is younger', () => {
    expect(pagesAreFresh(root)).toBe(true);
  });

  it.each(FILES)('they are where %s is younger', (path) => {
    written(path, 3000);
    expect(pagesAreFresh(root)).toBe(false);
  });

  it('they are where a source went, and where there are none', () => {
    rmSync(join(root, 'services/review/src/app/app.tsx'));
    expect(pagesAreFresh(root)).toBe(false);
    rmSync(join(root, PAGES));
    expect(pagesAreFresh(root)).toBe(false);
  });
});
