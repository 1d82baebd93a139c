import { describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.js';
import { LARGE_BATCH, largeBatch } from '../support/large-batch.js';

const workshop = workshopService();
const CASTS = 60;

describe('a batch under review', () => {
  it('tells before it begins what it takes', async () => {
    const { maker, assistant, service } = workshop();
    await largeBatch(service.runtime.records.db, CASTS);
    const [rules] = (await maker('GET', '/rules')).body.items;
    expect((await assistant('POST', '/batches/reach', { filter: {}, rulesId: rules.id })).body).toMatchObject({ casts: CASTS, approved: CASTS / 4, byThese: CASTS, disciplines: [], secondsEach: null });
    expect((await assistant('POST', '/batches/reach', { filter: { state: 'approved' } })).body).toMatchObject({ casts: CASTS / 4, byThese: 0 });
    expect((await assistant('POST', '/batches/reach', { filter: { discipline: 'none of these' } })).body.casts).toBe(0);
    const castIds = ((await assistant('GET', '/casts?limit=3&state=approved')).body.items as { id: string }[]).map(({ id }) => id);
    expect((await assistant('POST', '/batches/reach', { filter: { castIds, state: 'approved' } })).body).toMatchObject({ casts: 3, approved: 3 });
    await maker('POST', '/orders', { content: { orderNumber: 'not cast yet', discipline: 'boot-type' } });
    expect((await assistant('POST', '/batches/reach', { filter: {} })).body.disciplines).toEqual([{ name: 'boot-type', casts: 0 }]);
    expect((await assistant('POST', '/batches/reach', { filter: { colour: 'blue' } })).status).toBe(422);
    expect(rules.casts).toBe(CASTS);
  });

  it('lists its rules, who began it and how far it is', async () => {
    const { body: { items: [batch] } } = await workshop().assistant('GET', '/batches');
    expect(batch).toMatchObject({ id: LARGE_BATCH, rulesName: 'house rules', rulesNumber: 1, personName: null, casts: CASTS, counts: { asked: CASTS, compared: 54, done: 54, failed: 6, accepted: 0, declined: 0 } });
    expect((await workshop().assistant('GET', `/batches/${LARGE_BATCH}`)).body.counts).toEqual(batch.counts);
  });

  it('says which rows lie within limits, takes exactly those, and hands on only what changed since', async () => {
    const { maker, assistant } = workshop();
    const items = (await assistant('GET', `/batches/${LARGE_BATCH}/items?limit=200`)).body.items as { id: string; castId: string; verdict: string | null; seenAt: string; comparison: { maxMm: number; girths: { before: number; after: number }[] } | null }[];
    const expected = items.filter(({ comparison: c }) => c !== null && c.maxMm <= 0.5 && c.girths.every(({ before, after }) => Math.abs(after - before) <= 0.2)).map(({ id }) => id).sort();
    expect(expected.length).toBeGreaterThan(3);
    const { itemIds } = (await assistant('GET', `/batches/${LARGE_BATCH}/within?maxMm=0.5&girthMm=0.2`)).body;
    expect([...itemIds].sort()).toEqual(expected);
    expect((await assistant('GET', `/batches/${LARGE_BATCH}/within?maxMm=-1&girthMm=0.2`)).status).toBe(422);
    const before = new Date().toISOString();
    expect((await maker('POST', `/batches/${LARGE_BATCH}/accept`, { itemIds, within: { maxMm: 0.5, girthMm: 0.2 } })).body).toMatchObject({ left: [] });
    const changed = (await assistant('GET', `/batches/${LARGE_BATCH}/items?limit=200&changedAfter=${before}`)).body.items;
    expect(changed.map(({ id }: { id: string }) => id).sort()).toEqual(expected);
    expect(changed.every(({ verdict, seenAt }: { verdict: string; seenAt: string }) => verdict === 'accepted' && seenAt >= before)).toBe(true);
  });

  it('replaces no approved last that was not seen to be approved', async () => {
    const { maker } = workshop();
    const open = ((await maker('GET', `/batches/${LARGE_BATCH}/items?limit=200`)).body.items as { id: string; castId: string; verdict: string | null; state: string; approved: boolean }[]).filter(({ verdict, state, approved }) => verdict === null && state === 'done' && approved);
    const [one, other] = open;
    const { accepted, left } = (await maker('POST', `/batches/${LARGE_BATCH}/accept`, { itemIds: [one.id, other.id], approvedSeen: [other.id] })).body;
    expect(accepted).toEqual([other.id]);
    expect(left).toEqual([{ itemId: one.id, why: expect.stringMatching(/approved meanwhile/) }]);
    expect((await maker('GET', `/casts/${one.castId}`)).body.state).toBe('approved');
    expect((await maker('POST', `/batches/${LARGE_BATCH}/accept`, { itemIds: [one.id], approvedSeen: [one.id] })).body).toEqual({ accepted: [one.id], left: [] });
  });

  it('takes no for an answer, and the answer back', async () => {
    const { maker, assistant } = workshop();
    const open = ((await maker('GET', `/batches/${LARGE_BATCH}/items?limit=200`)).body.items as { id: string; castId: string; verdict: string | null; state: string }[]).filter(({ verdict, state }) => verdict === null && state === 'done');
    const [first, second] = open;
    expect((await assistant('POST', `/batches/${LARGE_BATCH}/decline`, { itemIds: [first.id] })).status).toBe(403);
    expect((await maker('POST', `/batches/${LARGE_BATCH}/decline`, { itemIds: [first.id, second.id] })).body.declined.sort()).toEqual([first.id, second.id].sort());
    expect((await maker('POST', `/batches/${LARGE_BATCH}/accept`, { itemIds: [first.id] })).body).toEqual({ accepted: [], left: [] });
    expect((await maker('POST', `/batches/${LARGE_BATCH}/reopen`, { itemIds: [first.id] })).body).toEqual({ reopened: [first.id] });
    expect((await maker('POST', `/batches/${LARGE_BATCH}/accept`, { itemIds: [first.id] })).body).toEqual({ accepted: [first.id], left: [] });
    expect((await maker('POST', `/batches/${LARGE_BATCH}/reopen`, { itemIds: [first.id] })).body).toEqual({ reopened: [] });
    expect((await maker('GET', `/batches/${LARGE_BATCH}`)).body.counts).toMatchObject({ declined: 1 });
  });

  it('makes nothing again where only refusals are left', async () => {
    expect((await workshop().maker('POST', `/batches/${LARGE_BATCH}/retry`)).body.code).toBe('nothing-to-retry');
  });
});

describe('rules', () => {
  it('are checked by path without being kept', async () => {
    const { assistant, maker } = workshop();
    const bad = await assistant('POST', '/rules/check', { content: { marks: { minDepthMm: 9 }, last: { colour: 'red' } } });
    expect(bad.body.content).toBeNull();
    expect(bad.body.faults.map(({ path }: { path: string }) => path).sort()).toEqual(['last.colour', 'marks.depthThresholdMm', 'marks.minDepthMm']);
    const good = await assistant('POST', '/rules/check', { content: { last: { toeAllowanceMm: 8 } } });
    expect(good.body).toMatchObject({ faults: [], content: { last: { toeAllowanceMm: 8, top: { coneMm: 0 } } } });
    expect((await maker('GET', '/rules')).body.items).toHaveLength(1);
  });
});
