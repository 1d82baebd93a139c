/**
 * npm run release -- VERSION: names a version. Looks whether it may (main, nothing uncommitted, a higher version, changes
 * written down), puts the version into every manifest and the date into CHANGELOG.md, commits and tags. Nothing is published:
 * push with `git push --follow-tags`. The tests are run before, by the one who releases or by continuous integration.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

const root = resolve(process.cwd());
const git = (...args) => execFileSync('git', args, { cwd: root, encoding: 'utf8' }).trim();
const path = (...parts) => join(root, ...parts);
const refuse = (sentence) => {
  console.error(sentence);
  process.exit(2);
};

const [version] = process.argv.slice(2);
if (!/^\d+\.\d+\.\d+$/.test(version ?? '')) refuse('Say which version, as in: npm run release -- 0.2.0');
if (git('status', '--porcelain') !== '') refuse('There are changes that are not committed. Commit or undo them first.');
if (git('rev-parse', '--abbrev-ref', 'HEAD') !== 'main') refuse('Releases are made of main.');
if (git('tag', '--list', `v${version}`) !== '') refuse(`v${version} is there already.`);

const now = JSON.parse(readFileSync(path('package.json'), 'utf8')).version;
const changes = readFileSync(path('CHANGELOG.md'), 'utf8');
const heading = /^## (\d+\.\d+\.\d+), not yet released\n\n(- .+\n)+/m.exec(changes);
if (heading === null) refuse('CHANGELOG.md has no section "## VERSION, not yet released" with what changed. Write it first.');
if (!isHigher(version, git('tag', '--list', 'v*') === '' ? '0.0.0' : now)) refuse(`${version} is not above ${now}, the version that stands.`);

writeFileSync(path('CHANGELOG.md'), changes.replace(/^## \d+\.\d+\.\d+, not yet released$/m, `## ${version}, ${new Date().toISOString().slice(0, 10)}`));
for (const manifest of manifests()) {
  const text = readFileSync(manifest, 'utf8');
  writeFileSync(manifest, text.replace(`"version": "${now}"`, `"version": "${version}"`));
}
const lock = JSON.parse(readFileSync(path('package-lock.json'), 'utf8'));
lock.version = version;
for (const [place, entry] of Object.entries(lock.packages)) if (!place.includes('node_modules/') && entry.version !== undefined) entry.version = version;
writeFileSync(path('package-lock.json'), `${JSON.stringify(lock, null, 2)}\n`);

git('commit', '--quiet', '--all', '--message', `Version ${version}`);
git('tag', '--annotate', `v${version}`, '--message', `Version ${version}`);
console.log(`Version ${version} is committed and tagged v${version}. Send it with: git push --follow-tags`);

function manifests() {
  const rooms = ['packages', 'services', 'workers'].filter((folder) => existsSync(path(folder)));
  return [path('package.json'), ...rooms.flatMap((folder) => readdirSync(path(folder)).map((name) => path(folder, name, 'package.json')).filter(existsSync))];
}

function isHigher(a, b) {
  const [x, y] = [a, b].map((v) => v.split('.').map(Number));
  const k = [0, 1, 2].find((i) => x[i] !== y[i]);
  return k !== undefined && x[k] > y[k];
}
