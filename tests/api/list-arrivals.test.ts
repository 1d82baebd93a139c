import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';

const workshop = workshopService();

describe('the list of arrivals', () => {
  it('says what each cast waits for', async () => {
    const { assistant } = workshop();
    const none = (await assistant('GET', '/arrivals/counts')).body;
    expect(Object.values(none).every((n) => n === 0)).toBe(true);
    const first = await bookIn(assistant);
    const at = (hours: number): string => new Date(Date.now() + hours * 3_600_000).toISOString();
    const waits = async (): Promise<string> => (await assistant('GET', `/arrivals?search=${first.orderNumber}`)).body.items[0].casts[0].waits;
    const change = async (body: object): Promise<void> => {
      const { headers } = await assistant('GET', `/casts/${first.castId}`);
      expect((await assistant('PATCH', `/casts/${first.castId}`, body, { 'if-match': headers.get('etag') ?? '' })).status).toBe(200);
    };
    expect(await waits()).toBe('post');
    await change({ arrivedAt: at(0), drying: { since: at(0), until: at(24), how: 'in the air' } });
    expect(await waits()).toBe('drying');
    await change({ drying: { since: at(-30), until: at(-6) } });
    expect(await waits()).toBe('scan');
    const { body: { items: [{ casts: [cast] }] } } = await assistant('GET', '/arrivals');
    expect(Math.abs(Date.parse(cast.since) - Date.now())).toBeLessThan(60_000);

    const { body: { revisionId } } = await upload(assistant, first.castId, new TextEncoder().encode('no scan at all'));
    expect((await ended(assistant, revisionId)).state).toBe('refused');
    expect(await waits()).toBe('trouble');
    const again = await upload(assistant, first.castId, sampleScan('2041-left.stl'));
    expect(await waits()).toBe('work');
    expect((await ended(assistant, again.body.revisionId)).state).toBe('done');
    expect(await waits()).toBe('maker');
    expect((await assistant('GET', '/arrivals/counts')).body).toMatchObject({ maker: 1, work: 0, trouble: 0 });
    expect((await assistant('GET', '/arrivals?waits=maker')).body.items).toHaveLength(1);
    expect((await assistant('GET', '/arrivals?waits=scan')).body.items).toHaveLength(0);
  });
});

describe('a scan that is told of otherwise', () => {
  it('is worked on again from its bytes, as a scan of the other foot too', async () => {
    const { assistant } = workshop();
    const { orderId, castId } = await bookIn(assistant);
    const { body: { scanId, revisionId } } = await upload(assistant, castId, new TextEncoder().encode('no scan at all'));
    expect((await ended(assistant, revisionId)).state).toBe('refused');
    const again = (body: object) => assistant('POST', `/scans/${scanId}/again`, body);
    expect((await again({ wallMm: 3 })).body.faults).toEqual([{ path: 'wallMm', message: 'a positive has no wall' }]);
    expect((await again({ side: 'right' })).body).toMatchObject({ status: 409, code: 'no-such-cast' });
    const otherwise = await again({ unit: 'cm' });
    expect([otherwise.status, otherwise.body.castId]).toEqual([201, castId]);
    expect(otherwise.body.scanId).not.toBe(scanId);
    expect((await ended(assistant, otherwise.body.revisionId)).scanId).toBe(otherwise.body.scanId);
    // Told the same, it is the same scan.
    expect((await again({})).body).toMatchObject({ scanId, revisionId });

    const { body: right } = await assistant('POST', `/orders/${orderId}/casts`, { side: 'right' });
    const moved = await again({ side: 'right' });
    expect([moved.status, moved.body.castId]).toEqual([201, right.id]);
    expect((await assistant('GET', `/casts/${castId}`)).body.state).toBe('awaiting-scan');
  });
});
