import { connect } from 'node:net';
import { describe, expect, it } from 'vitest';
import { bookIn, upload } from '../support/api-cast.js';
import { inSession, speaker, workshopService } from '../support/api-service.js';

const workshop = workshopService();

/** What no text may do: run in a page, break out of an attribute, end a header. */
const HOSTILE = ['<script>alert(1)</script>', '"><img src=x onerror=alert(1)>', "'; DROP TABLE orders; --", '{{7*7}}${7*7}', '\u202Egnp.exe', '../../../../etc/passwd', 'a\u0000b'];

/** Sends bytes as they are and gives what comes back until the other side ends it. */
function sendRaw(text: string): Promise<string> {
  const { port, hostname } = new URL(workshop().service.url);
  return new Promise((resolve, reject) => {
    let said = '';
    const socket = connect(Number(port), hostname, () => socket.write(text));
    socket.setTimeout(20_000, () => socket.destroy(new Error('no answer')));
    socket.on('data', (bytes) => (said += String(bytes))).on('close', () => resolve(said)).on('error', reject);
  });
}

describe('texts that would be something else', () => {
  it.each(HOSTILE)('%j stays text or is refused, in an order, a customer and a file name', async (text) => {
    const { assistant } = workshop();
    const order = await assistant('POST', '/orders', { content: { orderNumber: `H-${HOSTILE.indexOf(text)} ${text}`.slice(0, 80), remarks: text } });
    expect([201, 422]).toContain(order.status);
    if (order.status === 201) {
      const read = await assistant('GET', `/orders/${order.body.id}`);
      expect(read.body.content.remarks).toBe(text);
      expect(read.headers.get('content-type')).toContain('application/json');
      expect(read.headers.get('x-content-type-options')).toBe('nosniff');
    }
    const customer = await assistant('POST', '/customers', { name: text });
    expect([201, 422]).toContain(customer.status);
    const { castId } = await bookIn(assistant);
    const begun = await assistant('POST', `/casts/${castId}/uploads`, { fileName: text, size: 10 });
    expect(begun.status).toBe(/[\\/\p{Cc}]/u.test(text) ? 422 : 201);
  });

  it('a search takes its signs as they are written', async () => {
    const { assistant } = workshop();
    expect((await assistant('GET', '/customers?search=%00')).status).toBe(422);
    for (const search of ["'", '%', '_', '\\', '%27 OR 1=1', '"']) {
      const { status, body } = await assistant('GET', `/customers?search=${encodeURIComponent(search)}`);
      expect(status).toBe(200);
      // Only what holds the sign is found: nobody is called so but the hostile customers.
      for (const { name, number } of body.items) expect(`${name} ${number}`.toLowerCase()).toContain(search.toLowerCase());
    }
  });

  it('the name of a downloaded file cannot end its header', async () => {
    const { assistant } = workshop();
    const order = await assistant('POST', '/orders', { content: { orderNumber: 'N"; filename="x.exe' } });
    const cast = await assistant('POST', `/orders/${order.body.id}/casts`, { side: 'left' });
    const done = await upload(assistant, cast.body.id, new TextEncoder().encode('no scan at all, but long enough to be read as text'));
    expect(done.status).toBeLessThan(300);
    const photo = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 1, 2, 3]);
    const added = await assistant.raw('POST', `/casts/${cast.body.id}/photos`, photo, { 'content-type': 'image/png' });
    const { photos } = await added.json() as { photos: { sha256: string }[] };
    const read = await assistant.raw('GET', `/casts/${cast.body.id}/photos/${photos[0].sha256}`);
    expect(read.headers.get('content-disposition')).toBe('attachment; filename="photo-1.png"');
    expect(read.headers.get('content-type')).toBe('image/png');
  });
});

describe('bodies that are too much', () => {
  it('JSON beyond the limit is refused while it is read', async () => {
    const { assistant } = workshop();
    const { status, body } = await assistant('POST', '/orders', { content: { orderNumber: 'big', remarks: 'x'.repeat(3_000_000) } });
    expect([status, body.code]).toEqual([413, 'too-large']);
  });

  it.each([['arrays', '[', ']'], ['objects', '{"a":', '}']])('JSON nested ten thousand deep in %s is refused, and the service goes on', async (_, open, close) => {
    const { assistant } = workshop();
    const deep = `${open.repeat(10_000)}1${close.repeat(10_000)}`;
    const response = await assistant.raw('POST', '/orders', `{"content":${deep}}`, { 'content-type': 'application/json' });
    expect(response.status).toBe(422);
    expect((await assistant('GET', '/session')).status).toBe(200);
  });

  it('keys that would change every object are keys like others', async () => {
    const { assistant } = workshop();
    const response = await assistant.raw('POST', '/orders', '{"content":{"orderNumber":"P-1","__proto__":{"polluted":true},"constructor":{"prototype":{"polluted":true}}}}', { 'content-type': 'application/json' });
    expect(response.status).toBe(422);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it('what is no JSON, or says it is and is not, is refused with what to do', async () => {
    const { assistant } = workshop();
    for (const [text, type, status] of [['{"content"', 'application/json', 400], ['a=b', 'application/x-www-form-urlencoded', 415], ['\ufeff\u0000', 'application/json', 400]] as const) {
      const response = await assistant.raw('POST', '/orders', text, { 'content-type': type });
      expect(response.status).toBe(status);
      expect(await response.json()).toMatchObject({ code: expect.any(String), remedy: expect.any(String) });
    }
  });

  it('headers without end are cut', async () => {
    const said = await sendRaw(`GET /api/v1/health HTTP/1.1\r\nHost: x\r\nX-Long: ${'a'.repeat(200_000)}\r\n\r\n`).catch((error: Error) => error.message);
    expect(said).toMatch(/431|ECONNRESET|EPIPE/);
    expect((await workshop().nobody('GET', '/health')).status).toBe(200);
  });
});

describe('who is not who they say', () => {
  it.each(['Bearer forged', `Bearer ${'A'.repeat(43)}`, 'Bearer ', 'Basic bWFrZXI6bWFrZXI=', 'bearer null'])('%j lets nobody in', async (authorization) => {
    const forged = speaker(workshop().service.url, { authorization });
    expect((await forged('GET', '/orders')).status).toBe(401);
    expect((await forged('POST', '/uploads', { orderNumber: '1', side: 'left', fileName: 'a.stl', size: 1 })).status).toBe(401);
  });

  it('a token that was revoked, or ran out, is refused; one of a station reads nothing', async () => {
    const { administrator, service } = workshop();
    const revoked = await administrator('POST', '/tokens', { name: 'revoked' });
    await administrator('DELETE', `/tokens/${revoked.body.id}`);
    const old = await administrator('POST', '/tokens', { name: 'old', expiresAt: '2020-01-01T00:00:00Z' });
    for (const { token } of [revoked.body, old.body]) expect((await speaker(service.url, { authorization: `Bearer ${token}` })('POST', '/uploads', {})).status).toBe(401);
    const good = await administrator('POST', '/tokens', { name: 'good' });
    expect((await speaker(service.url, { authorization: `Bearer ${good.body.token}` })('GET', '/orders')).status).toBe(403);
  });

  it('a session with a digit changed, or of someone who was disabled, is none', async () => {
    const { administrator, nobody, service, maker } = workshop();
    const cookie = maker.headers.cookie;
    const last = cookie.at(-1) === 'A' ? 'B' : 'A';
    expect((await speaker(service.url, { cookie: cookie.slice(0, -1) + last })('GET', '/session')).status).toBe(401);
    const made = await administrator('POST', '/people', { name: 'leaver', displayName: 'Leaver', role: 'maker', password: 'plaster of the third day' });
    const leaver = inSession(service.url, await nobody('POST', '/session', { name: 'leaver', password: 'plaster of the third day' }));
    expect((await leaver('GET', '/session')).status).toBe(200);
    await administrator('PATCH', `/people/${made.body.id}`, { state: 'disabled' }, { 'if-match': `"${made.body.version}"` });
    expect((await leaver('GET', '/session')).status).toBe(401);
  });

  it('a change from another site is refused with the cookie and even with the token', async () => {
    const { maker } = workshop();
    for (const headers of [{ origin: 'https://elsewhere.example' } as Record<string, string>, { 'sec-fetch-site': 'cross-site' }, { origin: 'null' }, { 'x-csrf-token': 'guessed' }]) {
      expect((await maker('POST', '/customers', { number: 'forged' }, headers)).status, JSON.stringify(headers)).toBe(403);
    }
    expect((await maker('GET', '/customers?search=forged')).body.items).toEqual([]);
  });
});

describe('ids of others', () => {
  it('an upload that another station began is not there for this one', async () => {
    const { administrator, assistant, service } = workshop();
    const { orderNumber } = await bookIn(assistant);
    const [one, two] = await Promise.all(['one', 'two'].map(async (name) => speaker(service.url, { authorization: `Bearer ${(await administrator('POST', '/tokens', { name })).body.token}` })));
    const begun = await one('POST', '/uploads', { orderNumber, side: 'left', fileName: 'a.stl', size: 100 });
    expect(begun.status).toBe(201);
    for (const [method, path] of [['GET', ''], ['DELETE', ''], ['POST', '/finish']] as const) expect((await two(method, `/uploads/${begun.body.id}${path}`)).status).toBe(404);
    expect((await two.raw('PATCH', `/uploads/${begun.body.id}`, new Uint8Array(10), { 'upload-offset': '0' })).status).toBe(404);
  });

  it('a photo is read through its own cast alone, a file through its own result', async () => {
    const { assistant } = workshop();
    const [mine, other] = [await bookIn(assistant), await bookIn(assistant)];
    const added = await assistant.raw('POST', `/casts/${mine.castId}/photos`, Uint8Array.from([0xff, 0xd8, 0xff, 9]), { 'content-type': 'image/jpeg' });
    const { photos } = await added.json() as { photos: { sha256: string }[] };
    expect((await assistant.raw('GET', `/casts/${other.castId}/photos/${photos[0].sha256}`)).status).toBe(404);
    expect((await assistant.raw('GET', `/casts/${mine.castId}/photos/${photos[0].sha256}`)).status).toBe(200);
  });

  it.each(['1', '../people', '%2e%2e%2fpeople', '00000000-0000-0000-0000-00000000000g', "' OR 1=1"])('%s is no id of anything', async (id) => {
    const { maker } = workshop();
    for (const room of ['orders', 'casts', 'customers', 'revisions', 'jobs', 'rules', 'batches']) expect([400, 404]).toContain((await maker('GET', `/${room}/${encodeURIComponent(id)}`)).status);
  });
});

describe('streams of events', () => {
  it('are few for one person, and the place is free again when one ends', async () => {
    const { assistant, maker } = workshop();
    const ends = new AbortController();
    const open = () => fetch(`${workshop().service.url}/api/v1/events`, { headers: assistant.headers, signal: ends.signal });
    const streams = await Promise.all(Array.from({ length: 8 }, open));
    expect(streams.map(({ status }) => status)).toEqual(Array(8).fill(200));
    const ninth = await open();
    expect([ninth.status, ((await ninth.json()) as { code: string }).code]).toEqual([429, 'too-many-streams']);
    expect((await maker('GET', '/session')).status).toBe(200);
    ends.abort();
    const again = await until(() => fetch(`${workshop().service.url}/api/v1/events`, { headers: assistant.headers }));
    expect(again.status).toBe(200);
    await again.body?.cancel();
  });
});

/** Asks until it is let in; a socket's end is seen a moment later. */
async function until(ask: () => Promise<Response>): Promise<Response> {
  for (const end = Date.now() + 20_000; ; ) {
    const response = await ask();
    if (response.status === 200 || Date.now() > end) return response;
    await response.body?.cancel();
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
