import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';

const workshop = workshopService();

/** The revision of a sample scan, made. */
async function made(say: Speaker, side: 'left' | 'right', customerId?: string): Promise<string> {
  const { castId } = await bookIn(say, { side, customerId });
  const { body } = await upload(say, castId, sampleScan(`2043-${side}.stl`));
  expect((await ended(say, body.revisionId)).state).toBe('done');
  return body.revisionId;
}

describe('a comparison', () => {
  it('lays left on right once, with its report and files, and goes with the customer', async () => {
    const { assistant, administrator, service } = workshop();
    const { body: customer } = await assistant('POST', '/customers', { number: 'K-7001' });
    const [left, right] = [await made(assistant, 'left', customer.id), await made(assistant, 'right')];
    const compare = (of: string) => assistant('POST', '/comparisons', { first: { revisionId: left }, second: { revisionId: right }, of });
    const { status, body } = await compare('cast');
    expect([status, body.report.relation, body.report.casts.map(({ side }: { side: string }) => side), body.report.registration.mirrored]).toEqual([201, 'other-side', ['left', 'right'], true]);
    expect(body.report.measures.map(({ id }: { id: string }) => id)).toEqual(expect.arrayContaining(['foot-length', 'ball-girth']));
    expect(body.report.rules.name).toBe('house rules');
    const again = await compare('cast');
    expect([again.status, again.body]).toEqual([200, body]);
    expect((await assistant('GET', `/comparisons/${body.id}`)).body).toEqual(body);
    const lasts = await compare('last');
    expect([lasts.status, lasts.body.report.casts[0].of, lasts.body.id === body.id]).toEqual([201, 'last', false]);

    expect(body.files.map(({ name }: { name: string }) => name).sort()).toEqual(['compare.json', 'compare.pdf', 'deviation.glb']);
    for (const { name, sha256 } of body.files) {
      const file = await assistant.raw('GET', `/comparisons/${body.id}/files/${name}`);
      expect(createHash('sha256').update(new Uint8Array(await file.arrayBuffer())).digest('hex'), name).toBe(sha256);
    }
    expect((await (await assistant.raw('GET', `/comparisons/${body.id}/files/compare.json`)).json())).toEqual(body.report);
    expect((await assistant.raw('GET', `/comparisons/${body.id}/files/deviation.glb`)).headers.get('content-type')).toBe('model/gltf-binary');
    expect((await assistant('GET', `/comparisons/${body.id}/files/other.json`)).status).toBe(404);

    await administrator('POST', `/customers/${customer.id}/erase`, { confirm: 'K-7001' });
    expect((await assistant('GET', `/comparisons/${body.id}`)).status).toBe(404);
    for (const { sha256 } of [...body.files, ...lasts.body.files]) expect(await service.runtime.artifacts.has(sha256)).toBe(false);
  });

  it('is refused of one result with itself, of none, and of one that was not made', async () => {
    const { assistant } = workshop();
    const id = '00000000-0000-4000-8000-000000000000';
    const compare = (first: string, second: string) => assistant('POST', '/comparisons', { first: { revisionId: first }, second: { revisionId: second } });
    expect((await compare(id, id)).body.faults[0].path).toBe('second.revisionId');
    expect((await compare(id, '00000000-0000-4000-8000-000000000001')).status).toBe(404);
    const { castId } = await bookIn(assistant);
    const words = await upload(assistant, castId, new TextEncoder().encode('no mesh'));
    await ended(assistant, words.body.revisionId);
    const right = await made(assistant, 'right');
    expect((await compare(words.body.revisionId, right)).body).toMatchObject({ status: 409, code: 'nothing-to-compare', revisionId: words.body.revisionId });
  });
});
