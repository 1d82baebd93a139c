import { setTimeout as wait } from 'node:timers/promises';
import type { Figure } from './bench.js';
import { bookIn, memoryOf, startService } from './running-service.js';
import type { RunningService } from './running-service.js';

const TRIANGLES = 3_999_990;
const PART = 8 * 1024 * 1024;
const SETTLE_MS = 3000;

/** Memory of the process that answers requests while 200 MB come in and are stored; casts are worked on elsewhere. */
export async function measureMemory(servers: () => Promise<Readonly<Record<string, string>>>): Promise<Figure[]> {
  const server = await startService({ ...(await servers()), WORK: 'none' });
  const figures: Figure[] = [];
  try {
    const { before, most } = await uploaded(server);
    figures.push({ what: 'memory of the service during an upload of 200 MB, database on a server', bar: '< 250 MB', measured: `${most} MB (${before} MB before)`, holds: most < 250 });
  } finally {
    await server.stop();
  }
  const embedded = await startService();
  try {
    const { before, most } = await uploaded(embedded);
    figures.push({ what: 'the same with the database in the process', bar: '–', measured: `${most} MB (${before} MB before)`, holds: true });
  } finally {
    await embedded.stop();
  }
  return figures;
}

async function uploaded(service: RunningService): Promise<{ before: number; most: number }> {
  const castId = await bookIn(service, 'M-1', 'left');
  await wait(SETTLE_MS);
  const before = memoryOf(service.pid).now;
  let most = before;
  const watch = setInterval(() => (most = Math.max(most, memoryOf(service.pid).now)), 20);
  const size = 84 + 50 * TRIANGLES;
  const { id } = await service.say('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size });
  const head = Buffer.alloc(84);
  head.writeUInt32LE(TRIANGLES, 80);
  for (let at = 0; at < size; ) {
    const part = at === 0 ? Buffer.concat([head, Buffer.alloc(PART - 84, 7)]) : Buffer.alloc(Math.min(PART, size - at), 7);
    await service.send(`/uploads/${id}`, part, at);
    at += part.length;
  }
  // Where casts are worked on here, what comes after is the cast and not the upload.
  await service.say('POST', `/uploads/${id}/finish`, {});
  clearInterval(watch);
  return { before, most };
}
