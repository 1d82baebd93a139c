import { timingSafeEqual } from 'node:crypto';
import type { Request } from 'express';
import { digestOf } from '../../access/secrets.js';
import { whoAsks } from '../../access/who.js';
import { Problem } from '../../http/problem.js';
import { route } from '../../http/route.js';

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);

export const metrics = route({
  method: 'get', path: '/metrics', produces: 'text/plain',
  summary: 'Figures for Prometheus: to programs of this machine, to whoever sends the token of METRICS_TOKEN as Bearer, and to administrators.',
  handle: async ({ service, request, response }) => {
    const { records, config } = service.runtime;
    if (!isNear(request) && !holdsToken(request, config.metricsToken)) {
      const who = await whoAsks(records, request, service.secure);
      if (who.kind !== 'person' || who.role !== 'administrator') {
        throw new Problem(403, 'not-allowed', 'Figures are given to programs of the same machine, to the holder of METRICS_TOKEN and to administrators.', 'Ask from the machine itself, or send the token: Authorization: Bearer TOKEN.');
      }
    }
    response.set('Content-Type', service.metrics.registry.contentType).send(await service.metrics.registry.metrics());
    return null;
  },
});

/** From this machine, and not handed on by a proxy. */
const isNear = ({ socket, headers }: Request): boolean => LOOPBACK.has(socket.remoteAddress ?? '') && headers['x-forwarded-for'] === undefined;

/** Digests have one length and are compared in the same time, whatever was sent. */
function holdsToken({ headers }: Request, token: string | null): boolean {
  const sent = /^Bearer (\S+)$/i.exec(headers.authorization ?? '')?.[1];
  return token !== null && sent !== undefined && timingSafeEqual(Buffer.from(digestOf(sent)), Buffer.from(digestOf(token)));
}
