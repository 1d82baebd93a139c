import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';

const SCRIPT = new URL('../../infra/release/release.mjs', import.meta.url).pathname;
const IDENTITY = { GIT_AUTHOR_NAME: 'test', GIT_AUTHOR_EMAIL: 'test@example.org', GIT_COMMITTER_NAME: 'test', GIT_COMMITTER_EMAIL: 'test@example.org' };
const env = { PATH: process.env.PATH, HOME: '/nonexistent', ...IDENTITY };

/** A small repository of the same shape. */
function repository(changes = '# Changes\n\n## 0.1.0, not yet released\n\n- A thing.\n') {
  const folder = temporaryFolder();
  const git = (...args: string[]): string => execFileSync('git', args, { cwd: folder, env, encoding: 'utf8' }).trim();
  const write = (name: string, text: string): void => {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  };
  for (const name of ['package.json', 'packages/one/package.json', 'services/two/package.json']) write(name, '{\n  "name": "x",\n  "version": "0.1.0"\n}\n');
  write('package-lock.json', JSON.stringify({ version: '0.1.0', packages: { '': { version: '0.1.0' }, 'packages/one': { version: '0.1.0' }, 'node_modules/other': { version: '0.1.0' } } }));
  write('CHANGELOG.md', changes);
  git('init', '--quiet', '--initial-branch=main');
  git('add', '-A');
  git('commit', '--quiet', '-m', 'all');
  const release = (version: string) => spawnSync(process.execPath, [SCRIPT, version], { cwd: folder, env, encoding: 'utf8' });
  const read = (name: string): string => readFileSync(join(folder, name), 'utf8');
  return { git, write, release, read };
}

describe('a release', () => {
  it('puts the version everywhere, dates the changes, commits and tags', () => {
    const { git, release, read } = repository();
    expect(release('0.1.0').status).toBe(0);
    expect(git('tag', '--list')).toBe('v0.1.0');
    expect(read('CHANGELOG.md')).toMatch(/^## 0\.1\.0, \d{4}-\d\d-\d\d$/m);
    expect(git('status', '--porcelain')).toBe('');
  });

  it('of a later version goes up in manifests and lock file, and leaves those of others', () => {
    const { git, write, release, read } = repository();
    release('0.1.0');
    write('CHANGELOG.md', `# Changes\n\n## 0.2.0, not yet released\n\n- More.\n${read('CHANGELOG.md').slice(9)}`);
    git('commit', '--quiet', '-am', 'more');
    expect(release('0.2.0').stdout).toContain('v0.2.0');
    for (const name of ['package.json', 'packages/one/package.json', 'services/two/package.json']) expect(JSON.parse(read(name)).version).toBe('0.2.0');
    const { version, packages } = JSON.parse(read('package-lock.json'));
    expect([version, packages[''].version, packages['packages/one'].version, packages['node_modules/other'].version]).toEqual(['0.2.0', '0.2.0', '0.2.0', '0.1.0']);
  });

  it('is refused, with what to do, where something stands against it', () => {
    const { git, write, release } = repository();
    expect(release('two').stderr).toContain('npm run release -- 0.2.0');
    write('new.txt', 'x');
    expect(release('0.1.0')).toMatchObject({ status: 2, stderr: expect.stringContaining('not committed') });
    git('add', '-A');
    git('commit', '--quiet', '-m', 'new');
    git('checkout', '--quiet', '-b', 'other');
    expect(release('0.1.0').stderr).toContain('made of main');
    git('checkout', '--quiet', 'main');
    expect(release('0.1.0').status).toBe(0);
    expect(release('0.1.0').stderr).toContain('there already');
    expect(release('0.2.0').stderr).toContain('CHANGELOG.md');
    expect(repository('# Changes\n').release('0.1.0').stderr).toContain('CHANGELOG.md');
  });
});
