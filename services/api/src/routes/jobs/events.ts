import { z } from 'zod';
import { Problem } from '../../http/problem.js';
import { route } from '../../http/route.js';

const HEARTBEAT_MS = 15_000;
const MOST_STREAMS = 8;
/** Waiting in the socket for a listener that does not read, bytes. */
const MOST_UNREAD = 1e6;

const open = new Map<string, number>();

export const events = route({
  method: 'get', path: '/events', summary: 'What changes, as it changes (server-sent events job, cast and batch); Last-Event-ID goes on from there.', produces: 'text/event-stream',
  query: z.strictObject({ after: z.coerce.number().int().min(0).optional() }),
  handle: async ({ service: { feed, metrics }, by, query: { after }, request, response }) => {
    const key = by.id ?? '';
    if ((open.get(key) ?? 0) >= MOST_STREAMS) throw new Problem(429, 'too-many-streams', `More than ${MOST_STREAMS} streams of events are open.`, 'Close pages that are not used.');
    open.set(key, (open.get(key) ?? 0) + 1);
    metrics.streams(1);
    response.writeHead(200, { 'Content-Type': 'text/event-stream; charset=utf-8', 'X-Accel-Buffering': 'no', Connection: 'keep-alive' });
    response.write('retry: 2000\n\n');
    const last = Number(request.headers['last-event-id'] ?? after ?? NaN);
    const stop = feed.listen(({ seq, event, told }) => {
      // It comes again with Last-Event-ID and loses nothing.
      if (response.writableLength > MOST_UNREAD) response.destroy();
      else response.write(`${seq === null ? '' : `id: ${seq}\n`}event: ${event}\ndata: ${JSON.stringify(told)}\n\n`);
    }, Number.isSafeInteger(last) && last >= 0 ? last : null, () => response.end());
    const heart = setInterval(() => response.write(': here\n\n'), HEARTBEAT_MS);
    response.on('close', () => {
      clearInterval(heart);
      stop();
      metrics.streams(-1);
      const left = (open.get(key) ?? 1) - 1;
      if (left === 0) open.delete(key);
      else open.set(key, left);
    });
    return null;
  },
});
