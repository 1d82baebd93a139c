import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildPackages } from '../support/run-cli.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const CLI = 'packages/cli/dist/main.js';
const UPKEEP = 'services/api/dist/upkeep/main.js';
const SCAN = join(ROOT, 'sample-meshes/2041-left.stl');

/** Runs a program whose reader has closed the pipe before anything is written; what came over the other one, and the exit code. */
function runUnread(unread: 'stdout' | 'stderr', ...args: readonly string[]): Promise<{ code: number | null; signal: string | null; said: string }> {
  const child = spawn(process.execPath, args, { cwd: ROOT, stdio: ['ignore', 'pipe', 'pipe'] });
  child[unread].destroy();
  let said = '';
  child[unread === 'stdout' ? 'stderr' : 'stdout'].on('data', (chunk: Buffer) => (said += chunk.toString('utf8')));
  return new Promise((resolve, reject) => child.once('error', reject).once('close', (code, signal) => resolve({ code, signal, said })));
}

beforeAll(buildPackages);

describe('a pipe that its reader closed', () => {
  it.each([
    ['help', [CLI, '--help']],
    ['help of a command', [CLI, 'process', '--help']],
    ['version', [CLI, '--version']],
    ['rules', [CLI, 'rules', '--print-default']],
    ['upkeep', [UPKEEP, '--help']],
  ])('ends %s quietly', async (_name, args) => {
    expect(await runUnread('stdout', ...args)).toEqual({ code: 0, signal: null, said: '' });
  });

  it('ends check quietly, its result printed to nobody', async () => {
    expect(await runUnread('stdout', CLI, 'check', SCAN, '--side', 'left', '--json', '--quiet')).toEqual({ code: 0, signal: null, said: '' });
  });

  it('keeps the files and the exit code of a command whose progress nobody reads', async () => {
    const folder = join(temporaryFolder(), 'out');
    const { code, said } = await runUnread('stderr', CLI, 'process', SCAN, '--side', 'left', '--no-sheet', '--out', folder);
    expect([code, existsSync(join(folder, 'last.stl')), said]).toEqual([0, true, expect.stringContaining('last.stl')]);
    expect((await runUnread('stderr', CLI, 'rules')).code).toBe(2);
  });
});
