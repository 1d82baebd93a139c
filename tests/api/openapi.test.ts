import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { ROLE_TABLE, keyOf } from '@cast-to-last/api/access/role-table';
import { ANSWERS, WITHOUT_BODY } from '@cast-to-last/api/openapi/answers/answers';
import { ROUTES } from '@cast-to-last/api/routes/all-routes';
import { jsonDifferences } from '@cast-to-last/api/routes/rules/json-differences';
import { workshopService } from '../support/api-service.js';

const workshop = workshopService();

describe('the description of the API', () => {
  it('is served to all, and names every route with what it takes', async () => {
    const { nobody } = workshop();
    const { body } = await nobody('GET', '/openapi.json');
    expect(body.openapi).toBe('3.1.0');
    const described = Object.entries(body.paths as Record<string, Record<string, unknown>>).flatMap(([path, operations]) =>
      Object.keys(operations).map((method) => `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`));
    // The table holds every route of express: tests/api/role-table.
    expect(described.sort()).toEqual(Object.keys(ROLE_TABLE).sort());
    const upload = body.paths['/casts/{id}/uploads'].post;
    expect(upload.requestBody.content['application/json'].schema).toMatchObject({ type: 'object', required: ['fileName', 'size'], additionalProperties: false });
    expect(upload.parameters).toEqual([{ name: 'id', in: 'path', required: true, schema: { type: 'string', format: 'uuid' } }]);
    expect(body.paths['/casts'].get.parameters.map(({ name }: { name: string }) => name)).toEqual(['limit', 'after', 'from', 'to', 'search', 'state', 'side', 'verdict', 'waits', 'discipline', 'order', 'customer']);
    expect(body.paths['/revisions/{id}/approval'].post.parameters.map(({ name }: { name: string }) => name)).toContain('If-Match');
    expect([body.paths['/health'].get.security, body.paths['/uploads/{id}'].patch.security]).toEqual([[], [{ session: [] }, { station: [] }]]);
  });
});

describe('the answers', () => {
  it('are described for every route that answers with JSON, and for no other', () => {
    const withJson = ROUTES.filter(({ produces }) => produces === undefined || produces === 'application/json').map(keyOf);
    expect([...Object.keys(ANSWERS), ...WITHOUT_BODY].sort()).toEqual(withJson.sort());
  });

  it('stand in the description as schemas that hold together', async () => {
    const { body } = await workshop().nobody('GET', '/openapi.json');
    const ajv = new Ajv2020({ strict: false, validateFormats: false });
    for (const [path, operations] of Object.entries(body.paths as Record<string, Record<string, any>>)) {
      for (const [method, { responses }] of Object.entries(operations)) {
        const [[, success]] = Object.entries(responses as Record<string, any>).filter(([status]) => status.startsWith('2'));
        const schema = success.content?.['application/json']?.schema;
        if (schema !== undefined) expect(() => ajv.compile(schema), `${method} ${path}`).not.toThrow();
      }
    }
    expect(body.paths['/orders/{id}'].get.responses['200'].content['application/json'].schema.properties.casts.items.properties.side).toMatchObject({ enum: ['left', 'right'] });
    expect(body.paths['/session'].delete.responses).toHaveProperty('204');
  });
});

describe('rules', () => {
  const sample = JSON.parse(readFileSync(new URL('../../sample-meshes/workshop.rules.json', import.meta.url), 'utf8'));

  it('are added as versions that never change, and differ where they were changed', async () => {
    const { maker, assistant } = workshop();
    const first = await maker('POST', '/rules', { name: 'bench', content: sample });
    expect([first.status, first.body.number, first.body.content.version]).toEqual([201, 1, '1']);
    const second = await maker('POST', '/rules', { name: 'bench', content: { ...sample, marks: { ...sample.marks, minDepthMm: 0.8 } }, basedOn: first.body.id });
    expect(second.body.number).toBe(2);
    const { body: { differences } } = await assistant('GET', `/rules/${first.body.id}/diff/${second.body.id}`);
    expect(differences).toEqual([{ path: 'version', from: '1', to: '2' }, { path: 'marks.minDepthMm', from: first.body.content.marks.minDepthMm, to: 0.8 }]);
    const late = await maker('POST', '/rules', { name: 'bench', content: sample, basedOn: first.body.id });
    expect([late.status, late.body.current]).toEqual([409, { number: 2 }]);
    expect((await maker('POST', '/rules', { name: 'bench', content: { marks: { minDepthMm: 99 } } })).body).toMatchObject({ code: 'bad-rules', detail: expect.stringContaining('marks.minDepthMm') });
    expect((await maker('GET', '/rules')).body.items.map(({ name, number }: { name: string; number: number }) => `${name} ${number}`)).toEqual(['bench 2', 'bench 1', 'house rules 1']);
    expect((await maker('GET', `/rules/${first.body.id}`)).body).toMatchObject(first.body);
  });

  it('are described key by key for who edits them', async () => {
    const { assistant } = workshop();
    const { status, headers, body } = await assistant('GET', '/rules/schema');
    expect([status, headers.get('content-type')]).toEqual([200, expect.stringContaining('application/schema+json')]);
    expect(body.properties.marks.properties.minDepthMm).toEqual({ title: 'Least depth', unit: 'mm', description: expect.any(String), default: 0.5, type: 'number', minimum: 0.3, maximum: 3 });
  });

  it('are compared key by key, lists as a whole', () => {
    expect(jsonDifferences({ a: 1, b: { c: [1, 2], d: null }, e: 0 }, { a: 1, b: { c: [2, 1], d: null }, f: {} })).toEqual([
      { path: 'b.c', from: [1, 2], to: [2, 1] }, { path: 'e', from: 0 }, { path: 'f', to: {} },
    ]);
    expect(jsonDifferences({ a: [{ b: 1 }] }, { a: [{ b: 1 }] })).toEqual([]);
  });
});
