/** Installs the programs that tests need beside Node.js: node infra/setup/system-programs.mjs. Exit code 1 where one is missing at the end. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { spawnSync } from 'node:child_process';
import { run } from './set-up.mjs';

/** Programs beside Node.js that tests use as independent checkers or as servers: the command, or a file of it, and Debian's package. */
const NEEDED = [
  { command: 'admesh', debianPackage: 'admesh', use: 'checks the STL files that the program writes' },
  { file: '/usr/lib/python3/dist-packages/vtk.py', debianPackage: 'python3-vtk9', use: 'an independent reference for sections, hulls, areas, volumes and distances' },
  { command: 'redis-server', debianPackage: 'redis-server', use: 'the queue of a service on several machines' },
  { command: 'initdb', debianPackage: 'postgresql', use: 'the database of a service on several machines' },
  { command: 'swift-proxy-server', debianPackage: 'swift-proxy', use: 'the object store of a service on several machines' },
  { command: 'swift-account-server', debianPackage: 'swift-account', use: 'a part of the object store' },
  { command: 'swift-container-server', debianPackage: 'swift-container', use: 'a part of the object store' },
  { command: 'swift-object-server', debianPackage: 'swift-object', use: 'a part of the object store' },
  { command: 'chromium', debianPackage: 'chromium', use: 'the browser in which the pages are tested' },
];
/** Debian keeps PostgreSQL's own programs beside its version, outside PATH. */
const POSTGRESQL = '/usr/lib/postgresql';

const inPostgresql = (command) => existsSync(POSTGRESQL) && readdirSync(POSTGRESQL).some((version) => existsSync(join(POSTGRESQL, version, 'bin', command)));

const found = ({ command, file }) => {
  if (file !== undefined) return existsSync(file);
  if (inPostgresql(command)) return true;
  const looked = process.platform === 'win32' ? spawnSync('where', [command]) : spawnSync('sh', ['-c', `command -v ${command}`]);
  return looked.status === 0;
};

const missing = () => NEEDED.filter((needed) => !found(needed));

// Where that can be done without asking: as root on a Debian-like system.
if (missing().length > 0 && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
  const packages = missing().map(({ debianPackage }) => debianPackage);
  const options = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  if (run('apt-get', ['install', '-y', '--no-install-recommends', ...packages], options) !== 0) {
    run('apt-get', ['update'], options);
    run('apt-get', ['install', '-y', '--no-install-recommends', ...packages], options);
  }
}
for (const { command, debianPackage, use } of missing()) {
  console.error(`The tests need ${command ?? debianPackage} (${use}). Install it and run them again; on Debian or Ubuntu: sudo apt-get install ${debianPackage}`);
}
process.exit(missing().length === 0 ? 0 : 1);
