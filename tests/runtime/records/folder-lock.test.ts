import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { FolderInUse, lockFolder } from '@cast-to-last/runtime/records/folder-lock';
import { temporaryFolder } from '../../support/temporary-folder.js';

const LOCK = new URL('../../../packages/runtime/dist/records/folder-lock.js', import.meta.url);

/** Another process that takes the folder, says so or why not, and then does nothing. */
function other(folder: string): { child: ChildProcess; said: Promise<string> } {
  const program = `import { lockFolder } from '${LOCK.href}';
    await lockFolder(${JSON.stringify(folder)}).then(() => console.log('has it'), (error) => { console.log(error.name); process.exit(); });
    setInterval(() => {}, 1000);`;
  const child = spawn(process.execPath, ['--input-type=module', '-e', program], { stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  return { child, said: once(child.stdout!, 'data').then(([bytes]) => String(bytes).trim()) };
}

describe('the lock of a folder', () => {
  it('keeps a second one out, of this process and of another, until it is released', async () => {
    const folder = temporaryFolder();
    const lock = await lockFolder(folder);
    await expect(lockFolder(folder)).rejects.toBeInstanceOf(FolderInUse);
    expect(await other(folder).said).toBe('FolderInUse');
    lock.release();
    expect(await other(folder).said).toBe('has it');
    await expect(lockFolder(folder)).rejects.toThrow(/Process \d+ on .* is at work in .*CAST_DATA_FOLDER/);
  });

  it('is free again at once when its owner is killed', async () => {
    const folder = temporaryFolder();
    const { child, said } = other(folder);
    expect(await said).toBe('has it');
    child.kill('SIGKILL');
    await once(child, 'exit');
    const start = performance.now();
    (await lockFolder(folder)).release();
    expect(performance.now() - start).toBeLessThan(400);
  });

  it('is had by one of many that find a dead owner at the same moment', async () => {
    const folder = temporaryFolder();
    (await lockFolder(folder)).release();
    const said = await Promise.all(Array.from({ length: 8 }, () => other(folder).said));
    expect(said.filter((word) => word === 'has it')).toHaveLength(1);
    expect(said.filter((word) => word === 'FolderInUse')).toHaveLength(7);
  });

  it('does not take another process with the number of a dead owner for it, nor one from before the machine was started', async () => {
    for (const alter of [{ startedAt: '1' }, { boot: 'another' }]) {
      const folder = temporaryFolder();
      const lock = await lockFolder(folder);
      const [file] = readdirSync(folder);
      writeFileSync(join(folder, file), JSON.stringify({ ...JSON.parse(readFileSync(join(folder, file), 'utf8')), ...alter }));
      (await lockFolder(folder)).release();
      lock.release();
    }
  });

  it('believes an owner elsewhere as long as it speaks', async () => {
    const folder = temporaryFolder();
    const lock = await lockFolder(folder);
    const [file] = readdirSync(folder);
    writeFileSync(join(folder, file), JSON.stringify({ ...JSON.parse(readFileSync(join(folder, file), 'utf8')), host: 'elsewhere', pid: 2 ** 30 }));
    await expect(lockFolder(folder)).rejects.toBeInstanceOf(FolderInUse);
    lock.release();
    writeFileSync(join(folder, file), JSON.stringify({ ...JSON.parse(readFileSync(join(folder, file), 'utf8')), host: 'elsewhere', released: false }));
    (await lockFolder(folder, { says: 1000, deadAfter: 1000 })).release();
  });
});
