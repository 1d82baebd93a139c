import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openService } from '@cast-to-last/api/open-service';
import type { OpenService } from '@cast-to-last/api/open-service';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { readConfig } from '@cast-to-last/runtime/config';
import { QUIET } from '../support/quiet-log.js';

/** A service with an order, a cast and an upload, and someone who is signed in and may do everything. */
export interface Standing {
  readonly service: OpenService;
  readonly folder: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly ids: Readonly<Record<string, string>>;
}

let standing: Promise<Standing> | null = null;

/** The service that all requests go to, opened at the first call; opening takes seconds that are no request's. */
export const standingService = (): Promise<Standing> => (standing ??= stand());

/** Closes it, if it is open. */
export async function closeStanding(): Promise<void> {
  if (standing === null) return;
  const { service, folder } = await standing;
  standing = null;
  await service.close();
  rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
}

async function stand(): Promise<Standing> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-fuzz-service-'));
  const service = await openService(readConfig({ CAST_DATA_FOLDER: folder, DRAIN_S: '0' }), QUIET);
  const post = (path: string, body: unknown, headers: Record<string, string> = {}): Promise<Response> =>
    fetch(`${service.url}/api/v1${path}`, { method: 'POST', headers: { 'content-type': 'application/json', ...headers }, body: JSON.stringify(body) });
  const first = await post('/first-account', { token: service.firstAccountUrl?.split('#')[1], name: 'first', displayName: 'First', password: 'plaster of the third day' });
  const headers = { cookie: (first.headers.get('set-cookie') ?? '').split(';')[0], 'x-csrf-token': ((await first.json()) as { csrf: string }).csrf };
  const idOf = async (answer: Promise<Response>): Promise<string> => ((await (await answer).json()) as { id: string }).id;
  const order = await idOf(post('/orders', { content: { orderNumber: 'stands' } }, headers));
  const cast = await idOf(post(`/orders/${order}/casts`, { side: 'left' }, headers));
  const upload = await idOf(post(`/casts/${cast}/uploads`, { fileName: 'a.stl', size: 100 }, headers));
  const customer = await idOf(post('/customers', { number: 'K-1' }, headers));
  const scanner = await idOf(post('/scanners', { name: 'bench' }, headers));
  const person = await idOf(post('/people', { name: 'second', displayName: 'Second', role: 'assistant', password: 'plaster of the fourth day' }, headers));
  const ruleSet = await idOf(post('/rules', { name: 'house', content: DEFAULT_RULES, note: 'first' }, headers));
  const token = await idOf(post('/tokens', { name: 'station' }, headers));
  return {
    service, folder, headers,
    ids: { orders: order, casts: cast, uploads: upload, customers: customer, scanners: scanner, people: person, rules: ruleSet, tokens: token },
  };
}

/** What an HTTP client lets out at all: it refuses headers with signs that no header has. */
export const headersOf = (value: unknown): Record<string, string> =>
  Object.fromEntries(Object.entries(Object(value) as object).map(([name, text]) => [name.replaceAll(/[^\w-]/g, '') || 'x', String(text).replaceAll(/[^\t\x20-\x7e\x80-\xff]/g, '')]).filter(([name]) => !/^(content-length|transfer-encoding|connection|host|expect|upgrade|keep-alive)$/i.test(name)));

/** A request as it is kept: `:orders`, `:casts` and others in its path stand for the ids that there are. */
export interface KeptRequest {
  readonly method: string;
  readonly path: string;
  readonly query?: unknown;
  /** Nothing is sent where it is undefined. */
  readonly body?: unknown;
}

/** Sends a request and throws where its answer is a fault of the service. */
export async function send({ method, path, query, body }: KeptRequest, own: Readonly<Record<string, string>>): Promise<void> {
  const { service, headers, ids } = await standingService();
  const asked = new URLSearchParams(Object.entries(Object(query) as object).map(([name, value]): [string, string] => [name, typeof value === 'string' ? value : JSON.stringify(value)]));
  const answer = await fetch(`${service.url}/api/v1${path.replace(/:(\w+)/, (_, kind: string) => ids[kind])}?${asked.toString()}`, {
    method,
    headers: { ...(body !== undefined && { 'content-type': 'application/json' }), ...headers, ...own },
    ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
  });
  const said = await answer.text();
  if (answer.status >= 500) throw new Error(`${method} ${path} answered ${answer.status}: ${said.slice(0, 200)}`);
}
