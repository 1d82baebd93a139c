import { route } from '../../http/route.js';

export const openapi = route({
  method: 'get', path: '/openapi.json', summary: 'This description (OpenAPI 3.1).',
  handle: async ({ service }) => ({ body: service.description }),
});
