import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { Rng } from '../support/rng.js';
import { woundJson } from '../support/wound-json.js';
import { routes } from './route-target.js';
import { closeStanding, headersOf, send, standingService } from './standing-service.js';
import type { Target } from './target.js';

/** One request; `:casts`, `:orders` and `:uploads` stand for the ids of those that there are. */
interface Asked {
  readonly method: string;
  readonly path: string;
  readonly query?: Readonly<Record<string, unknown>>;
  readonly headers?: Readonly<Record<string, unknown>>;
  readonly body?: unknown;
}

const PLACE = Buffer.from('["2026-03-04T05:06:07.890Z","10000000-0000-4000-8000-000000000001"]').toString('base64url');
const TIMES = { from: '2026-01-01T00:00:00Z', to: '2026-12-31T00:00:00Z' };
const CONTENT = { orderNumber: '4107', sides: ['left'], date: '2026-03-17', load: 'seated', remarks: 'felt insole', plaster: { layers: 6, wallMm: 3.5 }, tape: { left: { 'foot-length': 262 } } };

const REQUESTS: readonly Asked[] = [
  ...['/orders', '/casts', '/customers', '/jobs', '/arrivals', '/batches', '/rules', '/scanners', '/people', '/tokens', '/audit'].map((path) => ({ method: 'GET', path, query: { limit: 5, after: PLACE, search: '41%', ...TIMES, state: 'open' } })),
  { method: 'POST', path: '/orders', body: { content: CONTENT } },
  { method: 'PATCH', path: '/orders/:orders', headers: { 'if-match': '"1"' }, body: { content: CONTENT } },
  { method: 'POST', path: '/orders/:orders/casts', body: { side: 'left', arrivedAt: '2026-03-04T05:06:07Z' } },
  { method: 'POST', path: '/customers', body: { number: 'K-1', name: 'a name', contact: 'a street', consent: { text: 'agreed' }, retainUntil: '2031-12-31' } },
  { method: 'POST', path: '/rules', body: { name: 'house', content: DEFAULT_RULES, note: 'a note' } },
  { method: 'POST', path: '/rules/check', body: { content: DEFAULT_RULES } },
  { method: 'POST', path: '/scanners', body: { name: 'bench' } },
  { method: 'POST', path: '/casts/:casts/uploads', body: { fileName: 'a.stl', size: 100, kind: 'outside', unit: 'mm', wallMm: 3, sideOverride: true } },
  { method: 'POST', path: '/orders/:orders/uploads', body: { fileName: 'a.stl', size: 100, encoding: 'gzip' } },
  { method: 'PATCH', path: '/uploads/:uploads', headers: { 'upload-offset': '0', 'content-type': 'application/octet-stream' }, body: 'bytes of a scan' },
  { method: 'POST', path: '/uploads/:uploads/finish', body: { sha256: 'f0'.repeat(32) } },
  { method: 'POST', path: '/casts/:casts/photos', headers: { 'content-type': 'image/png' }, body: 'no picture' },
  { method: 'GET', path: '/casts/:casts', headers: { 'if-none-match': '"1"', range: 'bytes=0-5', cookie: 'session=x', accept: '*/*' } },
];

const requests: Target = {
  name: 'request', limitMs: 5000,
  make: async (random: Rng) => {
    await standingService();
    const { method, path, ...rest } = REQUESTS[random.below(REQUESTS.length)];
    const wounded = woundJson(rest, random) as Asked;
    // A place in a list is text in text: it is wounded inside, too.
    const after = wounded.query?.after === PLACE && random.next() < 0.5 ? Buffer.from(JSON.stringify(woundJson(JSON.parse(Buffer.from(PLACE, 'base64url').toString()), random))).toString('base64url') : undefined;
    return new TextEncoder().encode(JSON.stringify({ ...wounded, method, path, ...(after !== undefined && { query: { ...wounded.query, after } }) }));
  },
  take: async (bytes) => {
    const { body, headers, ...asked } = JSON.parse(new TextDecoder().decode(bytes)) as Asked;
    await send({ ...asked, ...(asked.method !== 'GET' && { body }) }, headersOf(headers));
  },
  end: closeStanding,
};

/** What comes over the network: queries, headers and bodies of requests. No answer may be a fault of the service. */
export const REQUEST_TARGETS: readonly Target[] = [requests, routes];
