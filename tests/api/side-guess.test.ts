import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';

const workshop = workshopService();

/** Begins an upload for an order and sends all bytes. */
async function sent(say: Speaker, orderId: string, bytes: Uint8Array): Promise<string> {
  const { status, body } = await say('POST', `/orders/${orderId}/uploads`, { fileName: 'cast.stl', size: bytes.length });
  expect(status).toBe(201);
  await say.raw('PATCH', `/uploads/${body.id}`, bytes, { 'upload-offset': '0' });
  return body.id;
}

describe('an upload for an order', () => {
  it('is told its side by its shape, and becomes a scan of the cast that is named at its end', async () => {
    const { assistant } = workshop();
    const [one, other] = [await bookIn(assistant, { side: 'left' }), await bookIn(assistant, { side: 'left' })];
    const { body: right } = await assistant('POST', `/orders/${one.orderId}/casts`, { side: 'right' });
    const scan = sampleScan('2041-right.stl');
    const id = await sent(assistant, one.orderId, scan);
    const side = await assistant('POST', `/uploads/${id}/side`);
    expect([side.status, side.body]).toEqual([200, { side: 'right', sure: true, why: expect.stringContaining('right foot') }]);
    expect((await assistant('GET', `/uploads/${id}`)).body).toMatchObject({ orderId: one.orderId, castId: null, received: scan.length });
    expect((await assistant('POST', `/uploads/${id}/side`)).body).toEqual(side.body);
    expect((await (await assistant.raw('PATCH', `/uploads/${id}`, scan.subarray(0, 3), { 'upload-offset': '0' })).json())).toMatchObject({ code: 'upload-whole' });

    const finish = (body?: unknown) => assistant('POST', `/uploads/${id}/finish`, body);
    expect([(await finish()).status, (await finish()).body.code]).toEqual([409, 'cast-not-named']);
    const foreign = await finish({ castId: other.castId });
    expect([foreign.status, foreign.body.code]).toEqual([409, 'cast-of-other-order']);
    const { status, body } = await finish({ castId: right.id });
    expect([status, body.castId]).toEqual([201, right.id]);
    const revision = await ended(assistant, body.revisionId);
    expect(revision.state).toBe('done');
    // What the guess read and repaired is not read and repaired again.
    expect(revision.summary.stages.filter(({ cached }: { cached: boolean }) => cached).map(({ name }: { name: string }) => name)).toEqual(['read-scan', 'repair']);

    const again = await assistant('POST', `/orders/${one.orderId}/uploads`, { fileName: 'cast.stl', size: scan.length, sha256: createHash('sha256').update(scan).digest('hex') });
    expect([again.status, again.body]).toEqual([200, { castId: right.id, scanId: body.scanId, revisionId: body.revisionId }]);
  });

  it('is refused a side before it is whole, and where it shows no foot', async () => {
    const { assistant } = workshop();
    const { orderId } = await bookIn(assistant);
    const { body: { id } } = await assistant('POST', `/orders/${orderId}/uploads`, { fileName: 'cast.stl', size: 100 });
    expect((await assistant('POST', `/uploads/${id}/side`)).body).toMatchObject({ status: 409, code: 'upload-not-whole', received: 0 });
    const words = await sent(assistant, orderId, new TextEncoder().encode('no mesh at all, only words'));
    const { status, headers, body } = await assistant('POST', `/uploads/${words}/side`);
    expect([status, headers.get('content-type'), body.code]).toEqual([422, expect.stringContaining('application/problem+json'), 'not-a-mesh-file']);
    expect(body.remedy).toMatch(/STL/);
    expect((await assistant('POST', '/orders/00000000-0000-0000-0000-000000000000/uploads', { fileName: 'cast.stl', size: 100 })).status).toBe(404);
  });

  it('of a cast keeps to that cast', async () => {
    const { assistant } = workshop();
    const [one, other] = [await bookIn(assistant), await bookIn(assistant)];
    const scan = sampleScan('2044-left.stl');
    const { body: { id } } = await assistant('POST', `/casts/${one.castId}/uploads`, { fileName: 'cast.stl', size: scan.length });
    await assistant.raw('PATCH', `/uploads/${id}`, scan, { 'upload-offset': '0' });
    expect((await assistant('POST', `/uploads/${id}/side`)).body.side).toBe('left');
    expect((await assistant('POST', `/uploads/${id}/finish`, { castId: other.castId })).body).toMatchObject({ status: 409, code: 'other-cast', castId: one.castId });
    expect((await assistant('POST', `/uploads/${id}/finish`)).status).toBe(201);
  });

  it('goes with the customer where that one is erased meanwhile', async () => {
    const { assistant, administrator, service } = workshop();
    const { body: customer } = await assistant('POST', '/customers', { number: 'K-9001' });
    const { orderId } = await bookIn(assistant, { customerId: customer.id });
    const bytes = sampleScan('2043-left.stl');
    const id = await sent(assistant, orderId, bytes);
    await assistant('POST', `/uploads/${id}/side`);
    const digest = createHash('sha256').update(bytes).digest('hex');
    expect(await service.runtime.artifacts.has(digest)).toBe(true);
    expect((await administrator('POST', `/customers/${customer.id}/erase`, { confirm: 'K-9001' })).status).toBe(204);
    expect(await service.runtime.artifacts.has(digest)).toBe(false);
    expect((await assistant('GET', `/uploads/${id}`)).status).toBe(404);
  });
});
