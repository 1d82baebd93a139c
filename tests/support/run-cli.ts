import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { ENGINE_FLAGS } from './engine-flags.ts';
import { madeOnce } from './made-once.js';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Builds the packages, once in a run. */
export async function buildPackages(): Promise<void> {
  await madeOnce('built', () => {
    const built = spawnSync(process.execPath, ['node_modules/typescript/bin/tsc', '-b'], { cwd: ROOT, encoding: 'utf8' });
    if (built.status !== 0) throw new Error(`the packages do not build:\n${built.stdout}${built.stderr}`);
  });
}

/** Runs the built command as a process, with no terminal. */
export function runCli(...args: readonly string[]): Ran {
  const done = spawnSync(process.execPath, [...ENGINE_FLAGS, 'packages/cli/dist/main.js', ...args], { cwd: ROOT, encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });
  return { code: done.status, out: done.stdout, err: done.stderr };
}
