import type { Rng } from '../support/rng.js';
import { woundJson } from '../support/wound-json.js';
import { closeStanding, send, standingService } from './standing-service.js';
import type { Target } from './target.js';

/** The parts of JSON Schema that the description of the interface uses. */
interface Schema {
  readonly type?: string | readonly string[];
  readonly format?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly minimum?: number;
  readonly minLength?: number;
  readonly minItems?: number;
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly allOf?: readonly Schema[];
  readonly $ref?: string;
}

interface Operation {
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly schema: Schema }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema?: Schema }>> };
}

interface Description {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components?: { readonly schemas?: Readonly<Record<string, Schema>> };
}

/** One request; its kind of body, and the version that it is said to rest on. */
interface Asked {
  readonly method: string;
  readonly path: string;
  readonly type: string | null;
  readonly match: string | null;
  readonly query?: unknown;
  readonly body?: unknown;
}

/** Ends the session that all requests are made in, or never ends itself. */
const LEFT_OUT: readonly string[] = ['delete /session', 'post /session', 'get /events'];
/** Versions that a change may be said to rest on. */
const MATCHES: readonly (string | null)[] = [null, '"1"', '"1"', '"2"', '*', '"99999999999999999999"', '1', 'W/"1"', '"-1"', '"é"'];
const METHODS: readonly string[] = ['get', 'post', 'put', 'patch', 'delete'];

let description: Promise<Description> | null = null;

async function described(): Promise<Description> {
  const { service, headers } = await standingService();
  return (await (await fetch(`${service.url}/api/v1/openapi.json`, { headers })).json()) as Description;
}

/** Something that a schema would take, as far as its words tell. */
function like(schema: Schema | undefined, random: Rng, { components }: Description, depth = 0): unknown {
  if (schema === undefined || depth > 8) return null;
  const again = (other: Schema | undefined): unknown => like(other, random, { components, paths: {} }, depth + 1);
  if (schema.$ref !== undefined) return again(components?.schemas?.[schema.$ref.split('/').at(-1) ?? '']);
  if (schema.const !== undefined) return schema.const;
  if (schema.enum !== undefined) return schema.enum[random.below(schema.enum.length)];
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined) return again(choices[random.below(choices.length)]);
  if (schema.allOf !== undefined) return Object.assign({}, ...schema.allOf.map(again)) as unknown;
  const type = typeof schema.type === 'string' ? schema.type : schema.type?.[0];
  if (type === 'object' || schema.properties !== undefined) {
    return Object.fromEntries(Object.entries(schema.properties ?? {}).filter(() => random.next() < 0.7).map(([name, part]) => [name, again(part)]));
  }
  if (type === 'array') return Array.from({ length: (schema.minItems ?? 0) + random.below(3) }, () => again(schema.items));
  if (type === 'integer' || type === 'number') return (schema.minimum ?? 0) + random.below(5);
  if (type === 'boolean') return random.next() < 0.5;
  if (type === 'null') return null;
  if (schema.format === 'uuid') return `00000000-0000-4000-8000-00000000000${random.below(10)}`;
  if (schema.format === 'date') return '2026-03-17';
  if (schema.format === 'date-time') return '2026-03-17T08:00:00Z';
  return 'felt insole'.repeat(1 + Math.floor((schema.minLength ?? 0) / 11));
}

/** What an id in a path may be: `:kind` for the one that is there, one that is not, and none at all. */
function idFor(path: string, random: Rng, ids: Readonly<Record<string, string>>): string {
  const kind = /^\/(\w+)\//.exec(path)?.[1] ?? '';
  if (ids[kind] !== undefined && random.next() < 0.8) return `:${kind}`;
  return encodeURIComponent(['00000000-0000-4000-8000-000000000001', '0', 'é', '..', '%00', 'x'.repeat(300)][random.below(6)]);
}

/** Every route of the description, with a query and a body like those that it describes, damaged. */
export const routes: Target = {
  name: 'route', limitMs: 5000,
  make: async (random) => {
    const { ids } = await standingService();
    const all = await (description ??= described());
    const operations = Object.entries(all.paths).flatMap(([path, methods]) => METHODS.filter((method) => methods[method] !== undefined && !LEFT_OUT.includes(`${method} ${path}`)).map((method) => ({ path, method, operation: methods[method] })));
    const { path, method, operation } = operations[random.below(operations.length)];
    const query = Object.fromEntries((operation.parameters ?? []).filter((p) => p.in === 'query' && random.next() < 0.5).map((p) => [p.name, like(p.schema, random, all)]));
    const [type, content] = Object.entries(operation.requestBody?.content ?? {})[0] ?? [null, null];
    const body = content === null ? null : like(content.schema, random, all);
    const wounded = random.next() < 0.3 ? { query, body } : (woundJson({ query, body }, random) as { query?: unknown; body?: unknown });
    return new TextEncoder().encode(JSON.stringify({ method, path: path.replaceAll(/\{\w+\}/g, () => idFor(path, random, ids)), type, match: MATCHES[random.below(MATCHES.length)], ...wounded }));
  },
  take: async (bytes) => {
    const { method, type, match, body = null, ...asked } = JSON.parse(new TextDecoder().decode(bytes)) as Asked;
    const hasBody = method !== 'get' && type !== null;
    await send({ ...asked, method: method.toUpperCase(), ...(hasBody && { body }) }, { ...(hasBody && { 'content-type': type }), ...(match !== null && { 'if-match': match }) });
  },
  end: async () => {
    description = null;
    await closeStanding();
  },
};
