import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';
import { unzip } from '../support/unzip.js';
import { zipOf } from '../support/zip-of.js';

const here = workshopService();
const elsewhere = workshopService({ UPLOAD_MAX_MB: '2' });
const SCAN = sampleScan('2044-left.stl');
const PNG = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]);

/** An approved order with a photo, of a customer with a name. */
async function approvedOrder(assistant: Speaker, maker: Speaker, number: string) {
  const { body: customer } = await assistant('POST', '/customers', { number, name: 'Name Secret', contact: 'Street Secret' });
  const booked = await bookIn(assistant, { customerId: customer.id, content: { remarks: 'stiff upper' } });
  await assistant.raw('POST', `/casts/${booked.castId}/photos`, PNG, { 'content-type': 'image/png' });
  const { body } = await upload(assistant, booked.castId, SCAN, '../heel & toe.stl'.replace('../', ''));
  const revision = await ended(assistant, body.revisionId);
  const { body: cast } = await maker('GET', `/casts/${booked.castId}`);
  await maker('POST', `/revisions/${revision.id}/approval`, { verdict: 'approved', fingerprint: revision.fingerprint }, { 'if-match': `"${cast.version}"` });
  return { ...booked, customerId: customer.id as string, revision };
}

const bytesOf = async (say: Speaker, path: string): Promise<Uint8Array> => {
  const answer = await say.raw('GET', path);
  expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'application/zip']);
  return new Uint8Array(await answer.arrayBuffer());
};

const send = async (say: Speaker, bytes: Uint8Array) => {
  const answer = await say.raw('POST', '/archives', bytes, { 'content-type': 'application/zip' });
  return { status: answer.status, body: (await answer.json()) as Record<string, any> };
};

describe('the archive of an order', () => {
  it('is taken over elsewhere with all that was made and approved, once, and holds the customer\'s number alone', async () => {
    const { assistant, maker } = here();
    const other = elsewhere();
    const { orderId, orderNumber, castId, revision } = await approvedOrder(assistant, maker, 'K-100');
    expect((await assistant('GET', `/orders/${orderId}/archive`)).status).toBe(403);
    const archive = await bytesOf(maker, `/orders/${orderId}/archive`);
    const parts = await unzip(archive);
    expect([...parts.keys()]).toEqual(expect.arrayContaining(['manifest.json', `order-${orderNumber}/cast-1-left/scans/heel-toe.stl`, `order-${orderNumber}/cast-1-left/revision-1/last.stl`, `order-${orderNumber}/cast-1-left/photos/photo-1.png`]));
    for (const part of parts.values()) expect(Buffer.from(part).includes('Secret')).toBe(false);

    const first = await send(other.maker, archive);
    expect([first.status, first.body]).toEqual([201, { orderId, imported: true }]);
    const again = await send(other.maker, archive);
    expect([again.status, again.body]).toEqual([200, { orderId, imported: false }]);
    const { body: order } = await other.assistant('GET', `/orders/${orderId}`);
    expect(order).toMatchObject({ number: orderNumber, customerNumber: 'K-100', customerName: null, content: { remarks: 'stiff upper' }, casts: [{ id: castId, state: 'approved', approvedRevisionId: revision.id }] });
    const { body: taken } = await other.assistant('GET', `/revisions/${revision.id}`);
    expect(taken).toMatchObject({ state: 'done', origin: 'import', fingerprint: revision.fingerprint, files: revision.files, createdAt: revision.createdAt, approval: { verdict: 'approved' } });
    for (const { name, sha256 } of revision.files.slice(0, 3)) {
      const file = await other.assistant.raw('GET', `/revisions/${revision.id}/files/${name}`);
      expect(createHash('sha256').update(new Uint8Array(await file.arrayBuffer())).digest('hex')).toBe(sha256);
    }
    expect((await other.assistant('GET', '/rules')).body.items.map(({ name, number }: { name: string; number: number }) => `${name} ${number}`)).toEqual(['house rules 1']);
    expect((await other.maker('POST', `/casts/${castId}/revisions`, {})).body).toMatchObject({ revisionId: revision.id, state: 'done' });
  });

  it('brings rules of its own without making them the workshop\'s, and is refused where its number is another order\'s', async () => {
    const { assistant, maker } = here();
    const other = elsewhere();
    await maker('POST', '/rules', { name: 'bench', content: { marks: { minDepthMm: 0.9 } } });
    const { orderId, orderNumber, revision } = await approvedOrder(assistant, maker, 'K-101');
    const archive = await bytesOf(maker, `/orders/${orderId}/archive`);
    await other.assistant('POST', '/orders', { content: { orderNumber } });
    expect((await send(other.maker, archive)).body).toMatchObject({ status: 409, code: 'already-there' });
    const { body: { items: [blocker] } } = await other.assistant('GET', `/orders?search=${orderNumber}`);
    await other.assistant('PATCH', `/orders/${blocker.id}`, { content: { orderNumber: `${orderNumber}-old` } }, { 'if-match': `"${blocker.version}"` });
    expect((await send(other.maker, archive)).status).toBe(201);
    expect((await other.assistant('GET', '/rules')).body.items.map(({ name }: { name: string }) => name)).toEqual(['house rules']);
    const { body: taken } = await other.assistant('GET', `/revisions/${revision.id}`);
    expect(taken.rules.name).toMatch(/^imported [0-9a-f]{12} bench$/);
    expect((await other.maker('POST', '/rules', { name: taken.rules.name, content: {} })).status).toBe(422);
  });

  it('that was tampered with is refused, and nothing of it is taken over', async () => {
    const { assistant, maker } = here();
    const other = elsewhere();
    const { orderId } = await approvedOrder(assistant, maker, 'K-102');
    const parts = await unzip(await bytesOf(maker, `/orders/${orderId}/archive`));
    const manifest = () => JSON.parse(Buffer.from(parts.get('manifest.json') ?? []).toString());
    const refused = async (change: (parts: Map<string, Uint8Array>, manifest: any) => void): Promise<string> => {
      const [copy, json] = [new Map(parts), manifest()];
      change(copy, json);
      if (copy.has('manifest.json')) copy.set('manifest.json', Buffer.from(JSON.stringify(json)));
      const { status, body } = await send(other.maker, await zipOf(copy));
      expect([status, body.code]).toEqual([422, 'bad-archive']);
      return body.detail;
    };
    const [first] = manifest().files;
    expect(await refused((copy) => copy.delete('manifest.json'))).toMatch(/no manifest/);
    expect(await refused((copy) => copy.delete(first.path))).toMatch(/is missing/);
    expect(await refused((copy) => copy.set(first.path, (copy.get(first.path) as Uint8Array).map((b) => b ^ 1)))).toMatch(/digest/);
    expect(await refused((copy) => copy.set(first.path, new Uint8Array(9)))).toMatch(/as long as/);
    expect(await refused((_copy, json) => json.files.forEach((file: any) => (file.size = 3e7)))).toMatch(/at most/);
    expect(await refused((_copy, json) => (json.rows.casts[0].orderId = json.rows.casts[0].id))).toMatch(/belong together/);
    expect(await refused((_copy, json) => (json.rows.revisions[0].files = json.rows.revisions[0].files.slice(1)))).toMatch(/fingerprint/);
    expect(await refused((_copy, json) => (json.rows.casts[0].state = 'sold'))).toMatch(/rows\.casts\.0\.state/);
    expect(await refused((_copy, json) => (json.rows.orders[0].content.sides = ['both']))).toMatch(/rows\.orders\.0\.content/);
    expect((await send(other.maker, new TextEncoder().encode('no zip'))).body.code).toBe('bad-archive');
    expect((await send(other.maker, new Uint8Array(17e6))).body).toMatchObject({ status: 413, code: 'too-large' });
    expect((await other.assistant('GET', `/orders/${orderId}`)).status).toBe(404);
  });

  it('whose names lead out of a folder is refused', async () => {
    const zip = Buffer.from(await zipOf(new Map([['aaaa.txt', PNG], ['manifest.json', PNG]])));
    for (const name of ['../a.txt', '/aaa.txt', 'a\\b.txtx'.slice(0, 8)]) {
      const text = zip.toString('latin1').replaceAll('aaaa.txt', name);
      expect((await send(elsewhere().maker, Buffer.from(text, 'latin1'))).body.code, name).toBe('bad-archive');
    }
  });

  it('that unpacks to more than it says is stopped while it unpacks', async () => {
    const { assistant, maker } = here();
    const { orderId } = await approvedOrder(assistant, maker, 'K-103');
    const parts = await unzip(await bytesOf(maker, `/orders/${orderId}/archive`));
    const json = JSON.parse(Buffer.from(parts.get('manifest.json') ?? []).toString());
    const [victim] = json.files;
    parts.set(victim.path, new Uint8Array(1_000_000));
    const zip = Buffer.from(await zipOf(parts));
    // The central directory says the size that the manifest announces, whatever comes out.
    for (let at = zip.indexOf('PK\x01\x02'); at >= 0; at = zip.indexOf('PK\x01\x02', at + 4)) {
      if (zip.readUInt32LE(at + 24) === 1_000_000) zip.writeUInt32LE(victim.size, at + 24);
    }
    expect((await send(elsewhere().maker, zip)).body).toMatchObject({ status: 422, code: 'bad-archive', detail: expect.stringContaining('cannot be read') });
  });
});

describe('the archive of a customer', () => {
  it('holds all that is kept of them, with what was done', async () => {
    const { assistant, maker, administrator } = here();
    const { customerId, orderNumber } = await approvedOrder(assistant, maker, 'K-104');
    expect((await maker('GET', `/customers/${customerId}/archive`)).status).toBe(403);
    const parts = await unzip(await bytesOf(administrator, `/customers/${customerId}/archive`));
    const manifest = JSON.parse(Buffer.from(parts.get('manifest.json') ?? []).toString());
    expect(manifest.rows.customers).toMatchObject([{ number: 'K-104', name: 'Name Secret', contact: 'Street Secret' }]);
    expect(manifest.history.map(({ kind }: { kind: string }) => kind)).toEqual(expect.arrayContaining(['customer.added', 'order.added', 'scan.added', 'revision.approved']));
    expect(parts.get(`order-${orderNumber}/cast-1-left/scans/heel-toe.stl`)).toEqual(new Uint8Array(SCAN));
    expect((await send(elsewhere().maker, await zipOf(parts))).body.detail).toMatch(/one order/);
  });
});
