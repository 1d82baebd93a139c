import { z } from 'zod';
import { ROLE_TABLE, keyOf } from '../access/role-table.js';
import type { Route } from '../http/route.js';
import { ANSWERS, WITHOUT_BODY } from './answers/answers.js';

const PROBLEM = {
  type: 'object', required: ['type', 'title', 'status', 'detail', 'code', 'remedy'],
  properties: {
    type: { type: 'string' }, title: { type: 'string' }, status: { type: 'integer' }, detail: { type: 'string', description: 'What is wrong.' },
    code: { type: 'string', description: 'Stays the same for the same problem.' }, remedy: { type: 'string', description: 'What to do about it.' }, requestId: { type: 'string' },
    current: { description: 'Where something changed meanwhile: as it stands now.' }, faults: { type: 'array', items: { type: 'object', properties: { path: { type: 'string' }, message: { type: 'string' } } } },
  },
};

type JsonSchema = Record<string, unknown> & { readonly properties?: Record<string, unknown>; readonly required?: readonly string[] };

/** What is sent, not what becomes of it. */
const schemaOf = (schema: z.ZodType): JsonSchema => z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as JsonSchema;

/** The OpenAPI 3.1 document of these routes. */
export function describeApi(routes: readonly Route[]): Record<string, unknown> {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const route of routes) (paths[pathOf(route.path)] ??= {})[route.method] = operationOf(route);
  return {
    openapi: '3.1.0',
    info: { title: 'cast-to-last', version: '1', license: { name: 'MIT', identifier: 'MIT' } },
    servers: [{ url: '/api/v1' }],
    paths,
    components: {
      securitySchemes: { session: { type: 'apiKey', in: 'cookie', name: 'session' }, station: { type: 'http', scheme: 'bearer' } },
      schemas: { Problem: PROBLEM },
    },
  };
}

/** As OpenAPI writes it: {id} for :id. */
const pathOf = (path: string): string => path.replaceAll(/:(\w+)/g, '{$1}');

function operationOf(route: Route): Record<string, unknown> {
  const access = ROLE_TABLE[keyOf(route)];
  const content = route.body === 'bytes' ? { 'application/octet-stream': {} } : route.body === undefined ? null : { 'application/json': { schema: schemaOf(route.body) } };
  const parameters = [
    ...[...route.path.matchAll(/:(\w+)/g)].map(([, name]) => ({ name, in: 'path', required: true, schema: { type: 'string', ...(/(^i|I)d$/.test(name) && { format: 'uuid' }) } })),
    ...queryOf(route),
    ...(route.conditional === true ? [{ name: 'If-Match', in: 'header', required: true, schema: { type: 'string' }, description: 'The ETag as it was read.' }] : []),
  ];
  return {
    summary: route.summary,
    description: access === 'open' ? 'Open to all.' : `For the role ${access === 'station' ? 'assistant and those above, and for scanning stations' : `${access} and those above`}.`,
    ...(parameters.length > 0 && { parameters }),
    ...(content !== null && { requestBody: { required: true, content } }),
    security: access === 'open' ? [] : [{ session: [] }, ...(access === 'station' ? [{ station: [] }] : [])],
    responses: {
      [String(WITHOUT_BODY.has(keyOf(route)) ? 204 : (route.status ?? 200))]: { description: 'Done.', ...contentOf(route) },
      default: { description: 'A problem.', content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } } },
    },
  };
}

/** What comes with success; the schema is of what is given, as a client reads it. */
function contentOf(route: Route): Record<string, unknown> {
  if (WITHOUT_BODY.has(keyOf(route))) return {};
  const answer = ANSWERS[keyOf(route)];
  const media = route.produces ?? 'application/json';
  return { content: { [media]: answer === undefined ? {} : { schema: z.toJSONSchema(answer, { io: 'output', unrepresentable: 'any' }) } } };
}

function queryOf({ query }: Route): Record<string, unknown>[] {
  if (query === undefined) return [];
  const { properties = {}, required = [] } = schemaOf(query);
  return Object.entries(properties).map(([name, schema]) => ({ name, in: 'query', required: required.includes(name), schema }));
}
