import { Problem } from '../../http/problem.js';
import { route } from '../../http/route.js';

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);

export const metrics = route({
  method: 'get', path: '/metrics', summary: 'Figures for Prometheus: to programs of this machine, and to administrators.', produces: 'text/plain',
  handle: async ({ service, who, request, response }) => {
    const near = LOOPBACK.has(request.socket.remoteAddress ?? '') && request.headers['x-forwarded-for'] === undefined;
    if (!near && !(who.kind === 'person' && who.role === 'administrator')) throw new Problem(403, 'not-allowed', 'Figures are given to programs of the same machine and to administrators.', 'Ask from the machine itself.');
    response.set('Content-Type', service.metrics.registry.contentType).send(await service.metrics.registry.metrics());
    return null;
  },
});
