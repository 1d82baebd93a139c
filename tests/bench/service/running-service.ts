import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

// oxlint-disable-next-line typescript/no-explicit-any -- a bench reads what it needs of answers
export type Json = any;

/** A program of the service in a process of its own. */
export interface RunningProgram {
  readonly pid: number;
  stop(): Promise<void>;
}

/** The service, spoken to as its first account. */
export interface RunningService extends RunningProgram {
  readonly dataFolder: string;
  say(method: string, path: string, body?: unknown): Promise<Json>;
  send(path: string, bytes: Uint8Array, offset: number): Promise<Json>;
  /** The first event that is wanted from now on; when it came, in the time of `performance.now()`. */
  event(isWanted: (event: string, told: Json) => boolean): Promise<number>;
}

const program = (path: string): string => new URL(`../../../${path}`, import.meta.url).pathname;

function start(file: string, env: Readonly<Record<string, string>>, flags: readonly string[] = []) {
  const child = spawn(process.execPath, [...flags, program(file)], { env: { PATH: process.env.PATH, LOG_LEVEL: 'warn', ...env }, stdio: ['ignore', 'pipe', 'inherit'] });
  const stop = async (): Promise<void> => {
    child.kill('SIGTERM');
    await once(child, 'exit');
  };
  return { child, stop };
}

/** As infra/compose.yaml starts one. */
export function startWorker(env: Readonly<Record<string, string>>): RunningProgram {
  const { child, stop } = start('workers/cast-worker/dist/main.js', env, ['--single-threaded-gc']);
  return { pid: child.pid ?? 0, stop };
}

/** Starts the service in a new data folder, which goes with it, and makes its first account. */
export async function startService(env: Readonly<Record<string, string>> = {}): Promise<RunningService> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-bench-service-'));
  const { child, stop } = start('services/api/dist/main.js', { CAST_DATA_FOLDER: folder, DRAIN_S: '0', ...env });
  let link = '';
  for await (const line of createInterface(child.stdout)) {
    link = /http\S+welcome#\S+/.exec(line)?.[0] ?? '';
    if (link !== '') break;
  }
  child.stdout.resume();
  const base = `${new URL(link).origin}/api/v1`;
  const json = { 'content-type': 'application/json' };
  const first = await fetch(`${base}/first-account`, { method: 'POST', headers: json, body: JSON.stringify({ token: link.split('#')[1], name: 'bench', displayName: 'Bench', password: 'plaster of the third day' }) });
  const own = { cookie: (first.headers.get('set-cookie') ?? '').split(';')[0], 'x-csrf-token': ((await first.json()) as Json).csrf as string };

  const said = async (response: Response): Promise<Json> => {
    const text = await response.text();
    if (!response.ok) throw new Error(`${response.status} ${text}`);
    return text === '' ? null : JSON.parse(text);
  };
  return {
    pid: child.pid ?? 0,
    dataFolder: folder,
    say: async (method, path, body) => said(await fetch(base + path, { method, headers: { ...own, ...(body !== undefined && json) }, ...(body !== undefined && { body: JSON.stringify(body) }) })),
    send: async (path, bytes, offset) => said(await fetch(base + path, { method: 'PATCH', headers: { ...own, 'upload-offset': String(offset) }, body: bytes as Uint8Array<ArrayBuffer> })),
    event: async (isWanted) => {
      const stopped = new AbortController();
      const response = await fetch(`${base}/events`, { headers: own, signal: stopped.signal });
      let text = '';
      try {
        for await (const chunk of response.body as unknown as AsyncIterable<Uint8Array>) {
          text += new TextDecoder().decode(chunk);
          const parts = text.split('\n\n');
          text = parts.pop() ?? '';
          for (const part of parts) {
            const [event, told] = ['event', 'data'].map((name) => new RegExp(`^${name}: (.*)$`, 'm').exec(part)?.[1]);
            if (event !== undefined && told !== undefined && isWanted(event, JSON.parse(told))) return performance.now();
          }
        }
      } finally {
        stopped.abort();
      }
      throw new Error('The stream of events ended.');
    },
    stop: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** An order with one cast, booked in. */
export async function bookIn({ say }: RunningService, number: string, side: string): Promise<string> {
  const order = await say('POST', '/orders', { content: { orderNumber: number } });
  return (await say('POST', `/orders/${order.id}/casts`, { side })).id;
}

const PART = 8 * 1024 * 1024;

/** Uploads in parts, as a browser does; the upload's id. */
export async function uploadParts(service: RunningService, castId: string, bytes: Uint8Array): Promise<string> {
  const { id } = await service.say('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: bytes.length });
  for (let at = 0; at < bytes.length; at += PART) await service.send(`/uploads/${id}`, bytes.subarray(at, at + PART), at);
  return id;
}

/** The same scan as other bytes, so that nothing made of it before is used: the head of a binary STL says nothing. */
export function another(stl: Uint8Array, n: number): Uint8Array {
  const copy = Uint8Array.from(stl);
  copy.set(new TextEncoder().encode(`bench ${n}`.padEnd(20)));
  return copy;
}

/** Memory that a process holds now, and the most that it ever held, MB. */
export function memoryOf(pid: number): { readonly now: number; readonly peak: number } {
  const status = readFileSync(`/proc/${pid}/status`, 'utf8');
  const mb = (name: string): number => Math.round(Number(new RegExp(`^${name}:\\s+(\\d+)`, 'm').exec(status)?.[1] ?? 0) / 1024);
  return { now: mb('VmRSS'), peak: mb('VmHWM') };
}

/** Processor time of all threads of a process so far, seconds. */
export function processorTimeOf(pid: number): number {
  // The name of the program, in brackets, may hold spaces; clock ticks are hundredths of a second on Linux.
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').replace(/^.*\) /, '').split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}
