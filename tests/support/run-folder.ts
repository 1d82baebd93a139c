import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Holds what `madeOnce` made, until the run ends. */
    readonly runFolder: string;
  }
}

/** One folder for all files of a run. */
export default function makeRunFolder(project: TestProject): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-run-'));
  project.provide('runFolder', folder);
  return () => rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
}
