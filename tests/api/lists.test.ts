import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';

const workshop = workshopService();

type Item = Record<string, any>;
const items = async (say: Speaker, path: string): Promise<Item[]> => {
  const { status, body } = await say('GET', path);
  expect(status, path).toBe(200);
  return body.items;
};

describe('lists for a day\'s work', () => {
  it('show orders with their customer and casts, casts with what waits, and jobs with why they ended', async () => {
    const { assistant } = workshop();
    const { body: customer } = await assistant('POST', '/customers', { number: 'K-4401', name: 'Someone 50%' });
    const one = await bookIn(assistant, { content: { discipline: 'skating-type' }, customerId: customer.id });
    const { body: right } = await assistant('POST', `/orders/${one.orderId}/casts`, { side: 'right', arrivedAt: '2026-02-03T08:00:00.000Z' });
    const two = await bookIn(assistant, { side: 'right', content: { discipline: 'cycling-type' } });
    const made = await upload(assistant, one.castId, sampleScan('2044-left.stl'));
    const refused = await upload(assistant, two.castId, new TextEncoder().encode('no mesh'));
    const revision = await ended(assistant, made.body.revisionId);
    await ended(assistant, refused.body.revisionId);

    const [order] = await items(assistant, '/orders?search=K-4401');
    expect(order).toMatchObject({
      id: one.orderId, customerId: customer.id, customerNumber: 'K-4401', customerName: 'Someone 50%',
      casts: [{ id: one.castId, side: 'left', state: 'to-review', verdict: revision.summary.verdict, asks: revision.summary.marks.ask, job: null }, { id: right.id, side: 'right', state: 'awaiting-scan', verdict: null, asks: null }],
    });
    const orders = async (query: string): Promise<string[]> => (await items(assistant, `/orders?${query}`)).map(({ id }) => id).filter((id) => [one.orderId, two.orderId].includes(id));
    expect(await orders('search=50%25')).toEqual([one.orderId]);
    expect(await orders('discipline=cycling-type')).toEqual([two.orderId]);
    expect(await orders('castState=awaiting-scan,approved')).toEqual([one.orderId]);
    expect(await orders('castState=to-review&side=right')).toEqual([two.orderId]);
    expect(await orders('state=open,closed')).toEqual([two.orderId, one.orderId]);
    expect(await orders('state=closed')).toEqual([]);
    expect(await orders(`customer=${customer.id}`)).toEqual([one.orderId]);
    expect(await orders('from=2099-01-01T00:00:00.000Z')).toEqual([]);
    expect(await orders('to=2099-01-01T00:00:00.000Z')).toEqual([two.orderId, one.orderId]);
    expect((await assistant('GET', '/orders?state=open,lost')).body.faults[0].path).toMatch(/^state/);
    expect((await assistant('GET', `/orders/${one.orderId}`)).body).toMatchObject({ customerNumber: 'K-4401', customerName: 'Someone 50%' });

    const casts = await items(assistant, '/casts?search=Someone');
    expect(casts.map(({ id }) => id)).toEqual([right.id, one.castId]);
    expect(casts[0]).toMatchObject({ customerNumber: 'K-4401', discipline: 'skating-type', state: 'awaiting-scan', waits: 'scan', waitingSince: '2026-02-03T08:00:00.000Z' });
    expect(casts[1]).toMatchObject({ side: 'left', verdict: revision.summary.verdict, asks: revision.summary.marks.ask, waitingSince: revision.endedAt, job: null });
    const found = async (query: string): Promise<string[]> => (await items(assistant, `/casts?${query}`)).map(({ id }) => id);
    expect(await found(`verdict=${revision.summary.verdict}`)).toEqual([one.castId]);
    expect(await found('state=awaiting-scan,in-work&side=right')).toEqual([right.id]);
    expect(await found('waits=maker,trouble&search=4401')).toEqual([one.castId]);
    expect(await found('to=2026-02-04T00:00:00.000Z')).toEqual([right.id]);
    expect(await found('discipline=cycling-type')).toEqual([two.castId]);
    const [without] = await items(assistant, '/casts?discipline=cycling-type');
    expect(without.job).toMatchObject({ id: refused.body.jobId, state: 'refused', refusal: { code: 'not-a-mesh-file', remedy: expect.any(String) } });

    const [job] = await items(assistant, '/jobs?state=refused,failed,set-aside');
    expect(job).toMatchObject({ id: refused.body.jobId, orderNumber: two.orderNumber, side: 'right', revisionNumber: 1, batchId: null, refusal: { code: 'not-a-mesh-file', message: expect.any(String), remedy: expect.any(String) }, story: [] });
    expect(await items(assistant, `/jobs?state=done&cast=${one.castId}`)).toMatchObject([{ id: made.body.jobId, orderNumber: one.orderNumber, customerNumber: 'K-4401', refusal: null }]);
    expect(await items(assistant, '/jobs?side=right&search=K-4401')).toEqual([]);
  });

  it('go on where a page ended', async () => {
    const { assistant } = workshop();
    for (const path of ['/orders', '/casts', '/jobs']) {
      const first = (await assistant('GET', `${path}?limit=1`)).body;
      const second = (await assistant('GET', `${path}?limit=1&after=${first.next}`)).body;
      expect([first.items.length, second.items.length, first.items[0].id === second.items[0].id]).toEqual([1, 1, false]);
    }
  });
});
