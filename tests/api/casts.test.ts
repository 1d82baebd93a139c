import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, until, upload } from '../support/api-cast.js';
import { speaker, workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';

const workshop = workshopService({ UPLOAD_MAX_MB: '5', UPLOAD_MAX_TRIANGLES: '60000' });
const SCAN = sampleScan('2044-left.stl');

/** A cast whose first result is there. */
async function made(say: Speaker): Promise<{ castId: string; orderId: string; orderNumber: string; revision: Record<string, any> }> {
  const booked = await bookIn(say);
  const { body } = await upload(say, booked.castId, SCAN);
  return { ...booked, revision: await ended(say, body.revisionId) };
}

describe('an upload', () => {
  it('goes on where the line broke, and is refused from any other place', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const bytes = SCAN.subarray(0, 1000);
    const { status, body: { id } } = await assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: bytes.length });
    expect(status).toBe(201);
    const part = async (from: number, to: number, offset = from) => (await assistant.raw('PATCH', `/uploads/${id}`, bytes.subarray(from, to), { 'upload-offset': String(offset) })).json();
    expect(await part(0, 400)).toMatchObject({ received: 400 });
    expect(await part(0, 400)).toMatchObject({ status: 409, code: 'wrong-offset', received: 400 });
    expect((await assistant('GET', `/uploads/${id}`)).body).toMatchObject({ received: 400, size: 1000 });
    expect((await assistant('POST', `/uploads/${id}/finish`)).body).toMatchObject({ code: 'upload-not-whole', received: 400 });
    expect(await part(400, 1000)).toMatchObject({ received: 1000 });
    expect((await assistant('DELETE', `/uploads/${id}`)).status).toBe(204);
    expect((await assistant('GET', `/uploads/${id}`)).status).toBe(404);
  });

  it('is counted while it is read: more than was announced, or than is taken at all, is refused', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const begin = (size: number) => assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size });
    expect((await begin(5_000_001)).body.code).toBe('too-large');
    const { body: { id } } = await begin(100);
    expect((await assistant.raw('PATCH', `/uploads/${id}`, SCAN.subarray(0, 101), { 'upload-offset': '0' })).status).toBe(413);
    expect((await assistant('POST', `/casts/${castId}/uploads`, { fileName: '../x.stl', size: 10 })).body.faults[0].path).toBe('fileName');
  });

  it('is taken packed by gzip: the file is kept unpacked, both sizes are counted, and what is no gzip is refused', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const digest = createHash('sha256').update(SCAN).digest('hex');
    const send = async (packed: Uint8Array, more: Record<string, unknown> = {}) => {
      const { body: { id } } = await assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: packed.length, encoding: 'gzip', ...more });
      await assistant.raw('PATCH', `/uploads/${id}`, packed, { 'upload-offset': '0' });
      return assistant('POST', `/uploads/${id}/finish`);
    };
    expect((await send(SCAN.subarray(0, 5000))).body.code).toBe('not-packed');
    expect((await send(gzipSync(SCAN).subarray(0, 9000))).body.code).toBe('not-packed');
    const bomb = await send(gzipSync(new Uint8Array(5_000_001).fill(32)));
    expect([bomb.status, bomb.body.code]).toEqual([413, 'too-large']);
    const { status, body } = await send(gzipSync(SCAN), { sha256: digest });
    expect(status).toBe(201);
    const { body: { items: [scan] } } = await assistant('GET', `/casts/${castId}/revisions`);
    expect(scan.id).toBe(body.revisionId);
    expect((await ended(assistant, body.revisionId)).state).toBe('done');
  });

  it('of more triangles than are taken is refused at its first part, or while it is unpacked', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const many = Buffer.concat([Buffer.alloc(84), Buffer.alloc(50 * 60_001, 1)]);
    const { body: { id } } = await assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: many.length });
    const refused = await (await assistant.raw('PATCH', `/uploads/${id}`, new Uint8Array(many), { 'upload-offset': '0' })).json();
    expect(refused).toMatchObject({ status: 413, code: 'too-many-triangles' });
    const packed = gzipSync(many);
    const { body: begun } = await assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: packed.length, encoding: 'gzip' });
    await assistant.raw('PATCH', `/uploads/${begun.id}`, new Uint8Array(packed), { 'upload-offset': '0' });
    expect((await assistant('POST', `/uploads/${begun.id}/finish`)).body).toMatchObject({ status: 413, code: 'too-many-triangles' });
  });

  it('of bytes other than announced is refused', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const { body: { id } } = await assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: 10, sha256: '0'.repeat(64) });
    await assistant.raw('PATCH', `/uploads/${id}`, SCAN.subarray(0, 10), { 'upload-offset': '0' });
    expect((await assistant('POST', `/uploads/${id}/finish`)).body.code).toBe('other-bytes');
  });

  it('comes from a station by the label\'s number; another station does not see it', async () => {
    const { service, assistant, administrator } = workshop();
    const { orderNumber } = await bookIn(assistant);
    const stations = await Promise.all(['one', 'two'].map(async (name) => speaker(service.url, { authorization: `Bearer ${(await administrator('POST', '/tokens', { name })).body.token}` })));
    const { status, body: { id } } = await stations[0]('POST', '/uploads', { orderNumber, side: 'left', fileName: 'cast.stl', size: 10 });
    expect(status).toBe(201);
    expect((await stations[0]('GET', `/uploads/${id}`)).status).toBe(200);
    expect((await stations[1]('GET', `/uploads/${id}`)).status).toBe(404);
    expect((await stations[0]('GET', '/casts')).status).toBe(403);
    expect((await stations[0]('POST', '/uploads', { orderNumber, side: 'right', fileName: 'cast.stl', size: 10 })).body.code).toBe('no-such-cast');
    const [first] = (await administrator('GET', '/tokens')).body.items.filter(({ name }: { name: string }) => name === 'one');
    await administrator('DELETE', `/tokens/${first.id}`);
    expect((await stations[0]('GET', `/uploads/${id}`)).body.code).toBe('bad-token');
  });

  it('of what is no scan becomes a result that says so', async () => {
    const { assistant } = workshop();
    const { castId } = await bookIn(assistant);
    const { body } = await upload(assistant, castId, new TextEncoder().encode('no mesh at all, only words'));
    expect(await ended(assistant, body.revisionId)).toMatchObject({ state: 'refused', refusal: { code: 'not-a-mesh-file', remedy: expect.any(String) }, files: [], fingerprint: null });
  });
});

describe('a cast', () => {
  it('becomes a last with its files, told as it is made, and is approved as it was looked at', async () => {
    const { service, assistant, maker } = workshop();
    const { castId, orderNumber } = await bookIn(assistant);
    const stop = new AbortController();
    const stream = await fetch(`${service.url}/api/v1/events`, { headers: assistant.headers, signal: stop.signal });
    const told = readEvents(stream);

    const finished = await upload(assistant, castId, SCAN);
    expect(finished.status).toBe(201);
    const { revisionId } = finished.body;
    const revision = await ended(assistant, revisionId);
    expect(revision).toMatchObject({ state: 'done', number: 1, origin: 'person', rules: { name: 'house rules', number: 1 }, job: { state: 'done' }, approval: null });
    await until(async () => told.events, (events) => events.some(({ event, data }) => event === 'cast' && data.castId === castId && data.state === 'to-review'));
    stop.abort();
    expect(told.events.filter(({ event, data }) => event === 'job' && data.revisionId === revisionId).map(({ data }) => data.state)).toEqual(expect.arrayContaining(['running', 'done']));

    const again = await assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: SCAN.length, sha256: createHash('sha256').update(SCAN).digest('hex') });
    expect([again.status, again.body]).toEqual([200, { castId, scanId: finished.body.scanId, revisionId }]);
    expect((await upload(assistant, castId, SCAN)).body).toMatchObject({ scanId: finished.body.scanId, revisionId });

    const [item] = (await assistant('GET', `/casts?search=${orderNumber}`)).body.items;
    expect(item).toMatchObject({ id: castId, orderNumber, state: 'to-review', verdict: revision.summary.verdict, asks: revision.summary.marks.ask, job: null });
    const { body: cast } = await maker('GET', `/casts/${castId}`);
    const approve = (version: number, fingerprint: string) => maker('POST', `/revisions/${revisionId}/approval`, { verdict: 'approved', fingerprint }, { 'if-match': `"${version}"` });
    for (const verdict of ['approved', 'sent-back', 'recast']) {
      const byAssistant = await assistant('POST', `/revisions/${revisionId}/approval`, { verdict, reason: 'as it is', fingerprint: revision.fingerprint }, { 'if-match': `"${cast.version}"` });
      expect([byAssistant.status, byAssistant.body.code]).toEqual([403, 'not-allowed']);
    }
    expect((await approve(cast.version - 1, revision.fingerprint)).body).toMatchObject({ status: 412, current: { id: castId, version: cast.version } });
    expect((await approve(cast.version, 'f'.repeat(64))).body).toMatchObject({ status: 409, current: { revision: { fingerprint: revision.fingerprint } } });
    const approved = await approve(cast.version, revision.fingerprint);
    expect([approved.status, approved.body.cast.state, approved.body.approval.fingerprint]).toEqual([201, 'approved', revision.fingerprint]);
    expect((await approve(cast.version, revision.fingerprint)).status).toBe(412);
    const file = await maker.raw('GET', `/revisions/${revisionId}/files/last.stl`);
    expect(file.headers.get('content-disposition')).toContain(`${orderNumber}-left-approved-${revision.fingerprint.slice(0, 12)}-last.stl`);
  });

  it('serves files whole and in ranges, and nothing to those who have them', async () => {
    const { assistant } = workshop();
    const { revision } = await made(assistant);
    const path = `/revisions/${revision.id}/files/last.stl`;
    const listed = revision.files.find(({ name }: { name: string }) => name === 'last.stl');
    const whole = await assistant.raw('GET', path);
    const bytes = new Uint8Array(await whole.arrayBuffer());
    expect([createHash('sha256').update(bytes).digest('hex'), whole.headers.get('etag'), bytes.length]).toEqual([listed.sha256, `"${listed.sha256}"`, listed.size]);
    for (const [range, from, to] of [['bytes=0-9', 0, 10], ['bytes=100-', 100, bytes.length], ['bytes=-84', bytes.length - 84, bytes.length]] as const) {
      const part = await assistant.raw('GET', path, undefined, { range });
      expect([part.status, part.headers.get('content-range')]).toEqual([206, `bytes ${from}-${to - 1}/${bytes.length}`]);
      expect(Buffer.from(await part.arrayBuffer()).equals(Buffer.from(bytes.subarray(from, to)))).toBe(true);
    }
    expect((await assistant.raw('GET', path, undefined, { range: `bytes=${bytes.length}-` })).status).toBe(416);
    expect((await assistant.raw('GET', path, undefined, { range: 'bytes=0-9', 'if-range': '"other"' })).status).toBe(200);
    expect((await assistant.raw('GET', path, undefined, { 'if-none-match': `"${listed.sha256}"` })).status).toBe(304);
    expect((await assistant('GET', `/revisions/${revision.id}/files/no.stl`)).status).toBe(404);
  });

  it('is made again by decisions, goes back to what was, and nothing is overwritten', async () => {
    const { maker } = workshop();
    const { castId, revision: first } = await made(maker);
    const decide = (decisions: unknown) => maker('POST', `/casts/${castId}/revisions`, { decisions });
    expect((await decide({ marks: [{ decision: 'keep' }] })).body.code).toBe('bad-decisions');
    const [mark] = (await maker('GET', `/revisions/${first.id}/files/report.json`)).body.marks;
    const asked = await decide({ marks: [{ id: mark.id, decision: mark.decision === 'keep' ? 'smooth' : 'keep' }] });
    expect(asked.status).toBe(202);
    const second = await ended(maker, asked.body.revisionId);
    expect(second).toMatchObject({ state: 'done', number: 2, decisions: { marks: [{ id: mark.id }] } });
    expect(second.fingerprint).not.toBe(first.fingerprint);
    expect((await maker('GET', `/casts/${castId}`)).body.currentRevisionId).toBe(second.id);

    const { body: cast } = await maker('GET', `/casts/${castId}`);
    const old = await maker('POST', `/revisions/${first.id}/approval`, { verdict: 'approved', fingerprint: first.fingerprint }, { 'if-match': `"${cast.version}"` });
    expect([old.status, old.body.code]).toEqual([409, 'not-current']);
    expect((await decide({})).body).toMatchObject({ revisionId: first.id, state: 'done' });
    expect((await maker('GET', `/casts/${castId}`)).body).toMatchObject({ currentRevisionId: first.id, state: 'to-review' });
    expect((await maker('GET', `/casts/${castId}/revisions`)).body.items.map(({ number }: { number: number }) => number)).toEqual([2, 1]);
  });

  it('is made again where its order changes, and cannot be approved meanwhile', async () => {
    const { assistant, maker } = workshop();
    const { castId, orderId, orderNumber, revision } = await made(assistant);
    await assistant('PATCH', `/orders/${orderId}`, { content: { orderNumber, remarks: 'wide toes' } }, { 'if-match': '"1"' });
    const { body: cast } = await maker('GET', `/casts/${castId}`);
    expect(cast.state).toBe('in-work');
    const meanwhile = await maker('POST', `/revisions/${revision.id}/approval`, { verdict: 'approved', fingerprint: revision.fingerprint }, { 'if-match': `"${cast.version}"` });
    expect([meanwhile.status, meanwhile.body.code]).toEqual([409, 'being-made']);
    await until(() => maker('GET', `/casts/${castId}`), ({ body }) => body.state === 'to-review');
    expect((await maker('GET', `/casts/${castId}/revisions`)).body.items.map(({ state }: { state: string }) => state)).toEqual(['done', 'done']);
  });

  it('is sent back with a reason, and only with one', async () => {
    const { assistant, maker } = workshop();
    const { castId, revision } = await made(assistant);
    const { body: { version } } = await maker('GET', `/casts/${castId}`);
    const send = (reason?: string) => maker('POST', `/revisions/${revision.id}/approval`, { verdict: 'recast', fingerprint: revision.fingerprint, ...(reason && { reason }) }, { 'if-match': `"${version}"` });
    expect((await send()).body.faults[0].path).toBe('reason');
    expect((await send('the heel is off the plate')).body.cast.state).toBe('recast');
    expect((await maker('GET', `/casts/${castId}/approvals`)).body.items).toMatchObject([{ verdict: 'recast', reason: 'the heel is off the plate' }]);
  });
});

describe('jobs', () => {
  it('are cancelled while they wait or run, and made anew', async () => {
    const { maker } = workshop();
    const { castId } = await bookIn(maker);
    const { body: { jobId, revisionId } } = await upload(maker, castId, SCAN);
    expect((await maker('POST', `/jobs/${jobId}/cancel`)).status).toBe(202);
    expect((await ended(maker, revisionId)).state).toBe('cancelled');
    expect((await maker('GET', '/jobs?state=cancelled')).body.items).toMatchObject([{ id: jobId, castId }]);
    const { status, body } = await maker('POST', `/jobs/${jobId}/retry`);
    expect([status, body.revisionId]).toEqual([202, revisionId]);
    expect((await ended(maker, revisionId)).state).toBe('done');
    expect((await maker('POST', `/jobs/${body.id}/retry`)).body.code).toBe('nothing-to-retry');
  });
});

interface Told {
  readonly event: string;
  readonly data: Record<string, unknown>;
}

function readEvents(response: Response): { events: Told[] } {
  const read = { events: [] as Told[] };
  void (async () => {
    let text = '';
    for await (const chunk of response.body as unknown as AsyncIterable<Uint8Array>) {
      text += new TextDecoder().decode(chunk);
      const parts = text.split('\n\n');
      text = parts.pop() ?? '';
      for (const part of parts) {
        const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(part)?.[1];
        const [event, json] = [field('event'), field('data')];
        if (event !== undefined && json !== undefined) read.events.push({ event, data: JSON.parse(json) });
      }
    }
  })().catch(() => undefined);
  return read;
}
