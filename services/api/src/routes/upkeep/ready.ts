import { randomUUID } from 'node:crypto';
import { route } from '../../http/route.js';

export const ready = route({
  method: 'get', path: '/ready', summary: 'Whether database, store of files and jobs answer.',
  handle: async ({ service: { runtime } }) => {
    const asked = {
      database: () => runtime.records.health(),
      files: () => runtime.blobs.stat(`ready/${randomUUID()}`),
      jobs: () => runtime.jobs.counts(),
    };
    const parts = Object.fromEntries(await Promise.all(Object.entries(asked).map(async ([name, ask]) => [name, await ask().then(() => true, () => false)] as const)));
    const isReady = Object.values(parts).every(Boolean);
    return { status: isReady ? 200 : 503, body: { state: isReady ? 'ready' : 'not-ready', parts }, ...(!isReady && { headers: { 'Retry-After': '5' } }) };
  },
});
