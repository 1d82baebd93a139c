import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

const LEAST_NODE = [20, 19];

/** Runs a program in the checkout with its output shown; its exit code. */
export function run(command, args, options = {}) {
  const done = spawnSync(command, args, { cwd: ROOT, stdio: 'inherit', shell: process.platform === 'win32' && command === 'npm', ...options });
  if (done.error) console.error(`${command}: ${done.error.message}`);
  return done.status ?? 1;
}

/** Begins a program in the checkout with its output shown, beside what else is done; its exit code, in time. */
export function begin(command, args) {
  const running = spawn(command, args, { cwd: ROOT, stdio: 'inherit' });
  return new Promise((resolve) => {
    running.on('error', (error) => {
      console.error(`${command}: ${error.message}`);
      resolve(1);
    });
    running.on('exit', (code) => resolve(code ?? 1));
  });
}

/** Runs a program and ends this one with its exit code where it fails. */
function mustRun(command, args, why, options) {
  const code = run(command, args, options);
  if (code === 0) return;
  console.error(`${why} failed (${command} ${args.join(' ')}, exit code ${code}).`);
  process.exit(code);
}

/** The path of a program that a dependency brings. */
export const installed = (...path) => join(ROOT, 'node_modules', ...path);

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major > LEAST_NODE[0] || (major === LEAST_NODE[0] && minor >= LEAST_NODE[1])) return;
  console.error(`Node.js ${LEAST_NODE.join('.')} or later is needed; this is ${process.versions.node}.`);
  process.exit(1);
}

/** npm writes its own lock file into node_modules when an installation ends well. */
function dependenciesAreFresh() {
  const written = join(ROOT, 'node_modules', '.package-lock.json');
  return existsSync(written) && statSync(written).mtimeMs >= statSync(join(ROOT, 'package-lock.json')).mtimeMs;
}

/**
 * Whether the pages were built after everything that they are made of was last written. A build takes the files of the one
 * before away for a while, also from under a service that runs.
 */
export function pagesAreFresh(root) {
  const built = join(root, 'services', 'review', 'dist', 'index.html');
  if (!existsSync(built)) return false;
  const sources = [join('services', 'review', 'index.html'), join('services', 'review', 'vite.config.ts'), 'package-lock.json'].map((path) => join(root, path));
  for (const folder of [join('services', 'review', 'src'), join('services', 'review', 'public'), ...readdirSync(join(root, 'packages')).map((name) => join('packages', name, 'src'))]) {
    if (!existsSync(join(root, folder))) continue;
    const entries = readdirSync(join(root, folder), { recursive: true, withFileTypes: true });
    // A folder is younger where a file of it went.
    sources.push(join(root, folder), ...entries.map((entry) => join(entry.parentPath, entry.name)));
  }
  const since = statSync(built).mtimeMs;
  return sources.every((path) => statSync(path).mtimeMs <= since);
}

/** Dependencies as the lock file has them, and the packages built; all that is said goes to standard error where asked. */
export function setUp({ sayOnStderr = false } = {}) {
  const options = sayOnStderr ? { stdio: ['inherit', 2, 2] } : {};
  checkNode();
  if (!dependenciesAreFresh()) mustRun('npm', ['ci', '--no-audit', '--no-fund'], 'Installing the dependencies', options);
  mustRun(process.execPath, [installed('typescript', 'bin', 'tsc'), '-b'], 'Building the packages', options);
  if (!pagesAreFresh(ROOT)) mustRun(process.execPath, [installed('vite', 'bin', 'vite.js'), 'build', '--logLevel', 'warn', join('services', 'review')], 'Building the pages', options);
}
