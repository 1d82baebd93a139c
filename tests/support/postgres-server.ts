import { execFileSync, spawnSync } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { freePort } from './free-port.js';

/** A PostgreSQL server of its own, with nothing in it. */
export interface PostgresServer {
  /** The URL of a new database. */
  newDatabase(): Promise<string>;
  /** As by a power cut: connections end at once. */
  kill(): void;
  /** On the same port, with what it holds. */
  startAgain(): void;
  stop(): void;
}

/** Where Debian keeps PostgreSQL's own programs. */
const DEBIAN = '/usr/lib/postgresql';

function programs(): string {
  const versions = existsSync(DEBIAN) ? readdirSync(DEBIAN).filter((version) => existsSync(join(DEBIAN, version, 'bin', 'initdb'))) : [];
  return versions.length > 0 ? `${join(DEBIAN, versions.sort((a, b) => Number(b) - Number(a))[0], 'bin')}/` : '';
}

/** Starts a server in a folder of its own. PostgreSQL does not run as root: there, as the user `postgres` that its package makes. */
export async function startPostgres(): Promise<PostgresServer> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-postgres-'));
  const own = asOrdinaryUser();
  if (own !== null) chownSync(folder, own.uid, own.gid);
  const options = { ...own, cwd: folder, stdio: 'pipe' as const, env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8' } };
  const bin = programs();
  const cluster = join(folder, 'cluster');
  execFileSync(`${bin}initdb`, ['-D', cluster, '-U', 'service', '-A', 'trust', '-E', 'UTF8', '-N'], options);
  const port = await freePort();
  const settings = `-p ${port} -k ${folder} -c listen_addresses=127.0.0.1 -c fsync=off`;
  const start = (): void => void execFileSync(`${bin}pg_ctl`, ['-D', cluster, '-l', join(folder, 'log'), '-w', '-o', settings, 'start'], { ...options, stdio: 'ignore' });
  const kill = (): void => void spawnSync(`${bin}pg_ctl`, ['-D', cluster, '-m', 'immediate', '-w', 'stop'], { ...options, stdio: 'ignore' });
  start();
  let made = 0;
  const urlOf = (name: string): string => `postgres://service@127.0.0.1:${port}/${name}`;
  return {
    newDatabase: async () => {
      const name = `service${++made}`;
      const client = new pg.Client({ connectionString: urlOf('postgres') });
      await client.connect();
      await client.query(`CREATE DATABASE ${name}`);
      await client.end();
      return urlOf(name);
    },
    kill,
    startAgain: start,
    stop: () => {
      kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function asOrdinaryUser(): { uid: number; gid: number } | null {
  if (process.getuid?.() !== 0) return null;
  const id = (flag: string): number => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
  return { uid: id('-u'), gid: id('-g') };
}
