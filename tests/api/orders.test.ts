import { describe, expect, it } from 'vitest';
import { bookIn } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';

const workshop = workshopService();
const PNG = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 1, 2, 3);

describe('customers', () => {
  it('are added, found, changed by the version that was read, and erased with their orders', async () => {
    const { assistant, administrator } = workshop();
    const { body: customer } = await assistant('POST', '/customers', { number: 'K-100%', name: 'A name' });
    await assistant('POST', '/customers', { number: 'K-1000', name: 'Another' });
    expect((await assistant('GET', `/customers?search=${encodeURIComponent('100%')}`)).body.items).toEqual([customer]);
    const changed = await assistant('PATCH', `/customers/${customer.id}`, { retainUntil: '2030-01-31' }, { 'if-match': '"1"' });
    expect([changed.body.retainUntil, changed.body.name, changed.headers.get('etag')]).toEqual(['2030-01-31', 'A name', '"2"']);
    const late = await assistant('PATCH', `/customers/${customer.id}`, { name: 'Late' }, { 'if-match': '"1"' });
    expect([late.status, late.body.current]).toEqual([412, changed.body]);

    const { orderId } = await bookIn(assistant, { customerId: customer.id });
    expect((await administrator('POST', `/customers/${customer.id}/erase`, { confirm: 'K-1000' })).status).toBe(422);
    expect((await administrator('POST', `/customers/${customer.id}/erase`, { confirm: 'K-100%' })).status).toBe(204);
    expect((await assistant('GET', `/orders/${orderId}`)).status).toBe(404);
    expect((await assistant('GET', `/customers/${customer.id}`)).body).toMatchObject({ number: 'K-100%', name: null, erasedAt: expect.any(String) });
  });
});

describe('orders', () => {
  it('are taken as the command line takes them, and refused in the same words', async () => {
    const { assistant } = workshop();
    const bad = await assistant('POST', '/orders', { content: { orderNumber: 'x', footbed: { heelHeightMm: 900 } } });
    expect(bad.headers.get('content-type')).toMatch(/^application\/problem\+json/);
    expect(bad.body).toMatchObject({ type: 'urn:cast-to-last:problem:bad-order', status: 422, code: 'bad-order', detail: expect.stringContaining('footbed.heelHeightMm'), remedy: expect.stringContaining('Mend it') });
    expect(bad.body.faults).toContainEqual({ path: 'footbed.heelHeightMm', message: 'must be at most 150 mm' });
    expect((await assistant('POST', '/orders', { content: {}, more: 1 })).body.code).toBe('bad-request');
    expect((await assistant.raw('POST', '/orders', '{', { 'content-type': 'application/json' })).status).toBe(400);
    expect((await assistant.raw('POST', '/orders', '{}', { 'content-type': 'text/plain' })).status).toBe(415);
    expect((await assistant('GET', '/orders?limit=0')).body.faults[0].path).toBe('limit');
  });

  it('are paged without gaps or repeats, with the states of their casts', async () => {
    const { assistant } = workshop();
    const made: string[] = [];
    for (let i = 0; i < 7; i++) made.push((await bookIn(assistant, { content: { discipline: 'paging' } })).orderId);
    const seen: string[] = [];
    let after = '';
    do {
      const { body } = await assistant('GET', `/orders?discipline=paging&limit=3${after}`);
      expect(body.items.length).toBeLessThanOrEqual(3);
      for (const item of body.items) expect(item.casts).toMatchObject([{ side: 'left', state: 'awaiting-scan' }]);
      seen.push(...body.items.map(({ id }: { id: string }) => id));
      after = body.next === null ? '' : `&after=${body.next}`;
    } while (after !== '');
    expect(seen).toEqual(made.reverse());
    expect((await assistant('GET', '/orders?after=nowhere')).status).toBe(422);
  });

  it('that are closed take no casts, nor casts of a foot that was not ordered', async () => {
    const { assistant } = workshop();
    const { orderId } = await bookIn(assistant, { content: { sides: ['left'] } });
    expect((await assistant('POST', `/orders/${orderId}/casts`, { side: 'right' })).body.faults[0].path).toBe('side');
    await assistant('PATCH', `/orders/${orderId}`, { state: 'closed' }, { 'if-match': '"1"' });
    expect((await assistant('POST', `/orders/${orderId}/casts`, { side: 'left' })).body.code).toBe('order-not-open');
  });
});

describe('photos of a cast', () => {
  it('are kept once and served as they came', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const send = (bytes: Uint8Array, type: string) => assistant.raw('POST', `/casts/${castId}/photos`, bytes, { 'content-type': type });
    expect((await send(PNG, 'image/gif')).status).toBe(415);
    expect((await send(PNG, 'image/jpeg')).status).toBe(415);
    expect((await send(PNG, 'image/png')).status).toBe(201);
    const { photos } = (await (await send(PNG, 'image/png')).json()) as { photos: { sha256: string }[] };
    expect(photos).toHaveLength(1);
    const back = await assistant.raw('GET', `/casts/${castId}/photos/${photos[0].sha256}`);
    expect([back.headers.get('content-type'), new Uint8Array(await back.arrayBuffer())]).toEqual(['image/png', PNG]);
  });
});

describe('every answer', () => {
  it('has a request id, keeps browsers from guessing and framing, and is not kept by caches', async () => {
    const { nobody, service } = workshop();
    const { headers } = await nobody('GET', '/orders');
    expect(headers.get('x-request-id')).toMatch(/^[0-9a-f-]{36}$/);
    expect(headers.get('content-security-policy')).not.toMatch(/'unsafe-/);
    expect([headers.get('x-content-type-options'), headers.get('x-frame-options'), headers.get('cache-control'), headers.get('x-powered-by')]).toEqual(['nosniff', 'DENY', 'no-store', null]);
    expect(await (await fetch(service.url)).text()).toContain('<title>cast-to-last</title>');
    // Every address without an ending is one of the pages, which say themselves where there is none.
    for (const path of ['/no/such.js', '/api/v1/none']) expect((await fetch(service.url + path)).status, path).toBe(404);
  });

  it('of the upkeep says that it lives, is ready, and gives figures', async () => {
    const { nobody } = workshop();
    expect((await nobody('GET', '/health')).body).toEqual({ state: 'alive' });
    expect((await nobody('GET', '/ready')).body).toEqual({ state: 'ready', parts: { database: true, files: true, jobs: true } });
    const { body } = await nobody('GET', '/metrics');
    expect(body).toMatch(/^jobs\{state="waiting"\} 0$/m);
    expect(body).toMatch(/^http_request_duration_seconds_count\{method="GET",route="\/api\/v1\/orders",status="200"\} [1-9]/m);
    // Without a token in the settings none is taken.
    for (const authorization of ['', 'Bearer null', 'Bearer undefined']) expect((await nobody.raw('GET', '/metrics', undefined, { 'x-forwarded-for': '192.0.2.1', authorization })).status).toBe(authorization === '' ? 403 : 401);
  });
});
