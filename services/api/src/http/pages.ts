import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import express from 'express';
import type { Express } from 'express';
import { Problem } from './problem.js';

/** What the build of services/review leaves; the same place from the sources and from what is built. */
const PAGES = fileURLToPath(new URL('../../../review/dist/', import.meta.url));
/** Files here bear their content's hash in their names. */
const HASHED = /[\\/]assets[\\/]/;

/** Serves the review app: its files, and its one page at every address that names no file and is not of the API. */
export function servePages(app: Express): void {
  app.use(express.static(PAGES, {
    index: false, cacheControl: false,
    setHeaders: (response, path) => void (HASHED.test(path) && response.setHeader('Cache-Control', 'public, max-age=31536000, immutable')),
  }));
  app.get(/^\/(?!api\/)[^.]*$/, (_request, response) => {
    if (!existsSync(`${PAGES}index.html`)) throw new Problem(503, 'no-pages', 'The pages are not built.', 'Run npm run build and load this page again.');
    response.sendFile('index.html', { root: PAGES, cacheControl: false });
  });
}
