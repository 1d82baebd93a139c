import { existsSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { run } from './set-up.mjs';

/** Programs beside Node.js that tests use as independent checkers: the command, and Debian's package of it. */
const NEEDED = [{ command: 'admesh', debianPackage: 'admesh', use: 'checks the STL files that the program writes' }];

const found = (command) => {
  const looked = process.platform === 'win32' ? spawnSync('where', [command]) : spawnSync('sh', ['-c', `command -v ${command}`]);
  return looked.status === 0;
};

/** Installs what is missing where that can be done without asking (root on a Debian-like system); whether all is there. */
export function ensureSystemPrograms() {
  const missing = () => NEEDED.filter(({ command }) => !found(command));
  if (missing().length > 0 && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    const packages = missing().map(({ debianPackage }) => debianPackage);
    const options = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
    if (run('apt-get', ['install', '-y', '--no-install-recommends', ...packages], options) !== 0) {
      run('apt-get', ['update'], options);
      run('apt-get', ['install', '-y', '--no-install-recommends', ...packages], options);
    }
  }
  for (const { command, debianPackage, use } of missing()) {
    console.error(`The tests need ${command} (${use}). Install it and run them again; on Debian or Ubuntu: sudo apt-get install ${debianPackage}`);
  }
  return missing().length === 0;
}
