import { route } from '../../http/route.js';

export const health = route({
  method: 'get', path: '/health', summary: 'Whether the process lives.',
  handle: async () => ({ body: { state: 'alive' } }),
});
