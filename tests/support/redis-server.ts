import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { freePort } from './free-port.js';

/** A Redis server of its own, set as the service wants it: append-only file, nothing evicted. */
export interface RedisServer {
  readonly url: string;
  /** As by a power cut. */
  kill(): Promise<void>;
  /** On the same port, with what its file holds, or with nothing. */
  startAgain(options?: { readonly empty: boolean }): Promise<void>;
  stop(): Promise<void>;
}

export async function startRedis(): Promise<RedisServer> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-redis-'));
  const port = await freePort();
  let child: ChildProcess;
  const start = async (): Promise<void> => {
    child = spawn('redis-server', ['--port', String(port), '--bind', '127.0.0.1', '--dir', folder, '--appendonly', 'yes', '--maxmemory-policy', 'noeviction', '--save', ''], { stdio: 'ignore' });
    await new Promise<void>((resolve, reject) => child.once('spawn', resolve).once('error', reject));
    while (!(await answers(port))) await wait(20);
  };
  const kill = async (): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    child.kill('SIGKILL');
    await once(child, 'exit');
  };
  await start();
  return {
    url: `redis://127.0.0.1:${port}`,
    kill,
    startAgain: async ({ empty } = { empty: false }) => {
      if (empty) rmSync(join(folder, 'appendonlydir'), { recursive: true, force: true });
      await start();
    },
    stop: async () => {
      await kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Whether a server on the port says PONG; one that still loads its file says something else. */
const answers = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1', () => socket.write('PING\r\n'));
    socket.once('data', (bytes) => {
      socket.destroy();
      resolve(String(bytes).startsWith('+PONG'));
    });
    socket.once('error', () => resolve(false));
  });
