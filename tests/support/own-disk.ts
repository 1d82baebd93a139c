import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';

/**
 * A program of Node.js whose `folder` is a file system of its own in memory, which nothing outside sees: small, so that it can
 * be full, or read-only after `prepared` was copied into it. By a mount namespace of Linux; where that cannot be had the test
 * fails and says so.
 */
export interface OwnDisk {
  readonly folder: string;
  readonly sizeMb: number;
  readonly prepared?: string;
  readonly readOnly?: boolean;
}

export interface OnOwnDisk {
  /** Lines of standard output and error so far. */
  readonly lines: readonly string[];
  line(isWanted: (line: string) => boolean): Promise<string>;
  /** Exit code of a program that ends by itself. */
  readonly ended: Promise<number | null>;
}

const SCRIPT = `set -e
mount -t tmpfs -o size="$SIZE"m tmpfs "$FOLDER"
if [ -n "$PREPARED" ]; then cp -a "$PREPARED"/. "$FOLDER"/; fi
if [ -n "$READ_ONLY" ]; then mount -o remount,ro "$FOLDER"; fi
exec "$@"`;

export function startOnOwnDisk({ folder, sizeMb, prepared = '', readOnly = false }: OwnDisk, file: string, args: readonly string[], env: Readonly<Record<string, string>>): OnOwnDisk {
  if (spawnSync('unshare', ['-rm', 'true']).status !== 0) throw new Error('This test needs mount namespaces of Linux (unshare -rm), to have a disk that is full.');
  const child = spawn('unshare', ['-rm', 'sh', '-c', SCRIPT, 'sh', process.execPath, file, ...args], {
    env: { PATH: process.env.PATH, FOLDER: folder, SIZE: String(sizeMb), PREPARED: prepared, READ_ONLY: readOnly ? '1' : '', ...env }, stdio: ['ignore', 'pipe', 'pipe'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const lines: string[] = [];
  for (const stream of [child.stdout, child.stderr]) createInterface(stream).on('line', (line) => lines.push(line));
  const ended = once(child, 'close').then(([code]) => code as number | null);
  return {
    lines, ended,
    line: async (isWanted) => {
      const end = Date.now() + 60_000;
      while (Date.now() < end && child.exitCode === null) {
        const found = lines.find(isWanted);
        if (found !== undefined) return found;
        await Promise.race([ended, new Promise((resolve) => setTimeout(resolve, 50))]);
      }
      throw new Error(`The line did not come; what was said: ${lines.join('\n')}`);
    },
  };
}
