import { beforeAll, describe, expect, it } from 'vitest';
import { surfaceChange } from '@cast-to-last/api/batches/surface-change';
import { isWithin } from '@cast-to-last/api/routes/batches/accept';
import { bookIn, ended, sampleScan, until, upload } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';
import { box } from '../support/meshes.js';
import { buildPackages } from '../support/run-cli.js';

const workshop = workshopService();
const ROOMY = { last: { toeAllowanceMm: 12 } };

beforeAll(buildPackages);

const batchEnd = (say: Speaker, id: string) => until(() => say('GET', `/batches/${id}`), ({ body }) => body.state !== 'running');
const castOf = async (say: Speaker, id: string) => (await say('GET', `/casts/${id}`)).body;

describe('a batch', () => {
  it('makes candidates that change nothing until a maker takes them, and says what each would change', async () => {
    const { maker, assistant } = workshop();
    const [approvedId, openId] = await Promise.all([0, 1].map(async () => (await bookIn(maker)).castId));
    const revisions = [];
    for (const [castId, scan] of [[approvedId, '2044-left.stl'], [openId, '2043-left.stl']] as const) revisions.push(await ended(maker, (await upload(maker, castId, sampleScan(scan))).body.revisionId));
    const before = await castOf(maker, approvedId);
    await maker('POST', `/revisions/${revisions[0].id}/approval`, { verdict: 'approved', fingerprint: revisions[0].fingerprint }, { 'if-match': `"${before.version}"` });

    const trial = await maker('POST', '/rules/trial', { content: ROOMY, castIds: [openId] });
    expect([trial.status, trial.body.trial, trial.body.casts]).toEqual([201, true, 1]);
    await batchEnd(maker, trial.body.id);
    expect((await maker('POST', `/batches/${trial.body.id}/accept`, { within: { maxMm: 100, girthMm: 100 } })).body.code).toBe('trial');
    expect((await maker('GET', '/rules')).body.items).toHaveLength(1);

    const { body: rules } = await maker('POST', '/rules', { name: 'house rules', content: ROOMY });
    expect((await maker('POST', '/batches', { name: 'none', rulesId: rules.id, filter: { discipline: 'nothing of this' } })).body.code).toBe('no-casts');
    const { body: batch } = await maker('POST', '/batches', { name: 'more toe room', rulesId: rules.id, filter: {} });
    expect(batch.casts).toBe(2);
    expect((await assistant('POST', `/batches/${batch.id}/pause`)).status).toBe(403);
    expect((await maker('POST', `/batches/${batch.id}/pause`)).body.state).toBe('paused');
    expect((await maker('POST', `/batches/${batch.id}/resume`)).body.state).toBe('running');
    expect((await batchEnd(maker, batch.id)).body).toMatchObject({ state: 'ended', counts: { asked: 2, done: 2, compared: 2, accepted: 0, failed: 0 } });

    const { items } = (await assistant('GET', `/batches/${batch.id}/items`)).body;
    expect(items.map(({ castId }: { castId: string }) => castId).sort()).toEqual([approvedId, openId].sort());
    for (const { comparison, state } of items) {
      expect(state).toBe('done');
      // The toe goes forward by the allowance, its rounding with it; most of the last stays.
      expect(comparison.maxMm).toBeGreaterThan(6);
      expect(comparison.maxMm).toBeLessThan(22);
      expect(comparison.rmsMm).toBeLessThan(comparison.maxMm / 2);
      expect(comparison.girths.map(({ id }: { id: string }) => id)).toContain('ball-girth');
      expect([comparison.marksCame, comparison.marksWent]).toEqual([[], []]);
    }
    expect(await castOf(maker, approvedId)).toMatchObject({ state: 'approved', approvedRevisionId: revisions[0].id });

    expect((await maker('POST', `/batches/${batch.id}/accept`, { within: { maxMm: 0.1, girthMm: 0.1 } })).body).toEqual({ accepted: [], left: [] });
    const all = await maker('POST', `/batches/${batch.id}/accept`, { within: { maxMm: 50, girthMm: 50 } });
    expect(all.body.accepted.sort()).toEqual(items.map(({ id }: { id: string }) => id).sort());
    const candidateOf = (castId: string) => items.find((item: { castId: string }) => item.castId === castId).revisionId;
    expect(await castOf(maker, approvedId)).toMatchObject({ state: 'approved', approvedRevisionId: candidateOf(approvedId), currentRevisionId: candidateOf(approvedId) });
    expect(await castOf(maker, openId)).toMatchObject({ state: 'to-review', approvedRevisionId: null, currentRevisionId: candidateOf(openId) });
    // Nothing was overwritten: the result of before is there with its files.
    expect((await maker.raw('GET', `/revisions/${revisions[0].id}/files/last.stl`)).status).toBe(200);
  }, 300_000);
});

describe('the change of a surface', () => {
  it('is what a body was moved by, seen from either side', () => {
    const body = box(10, 20, 30);
    const moved = { ...body, positions: body.positions.map((c, i) => (i % 3 === 2 ? c + 0.25 : c)) };
    for (const [a, b] of [[body, moved], [moved, body]]) expect(surfaceChange(a, b).maxMm).toBeCloseTo(0.25, 12);
    expect(surfaceChange(body, body)).toEqual({ maxMm: 0, rmsMm: 0 });
  });

  it('is within limits where it and every girth are', () => {
    const comparison = (maxMm: number, before: number | null, after: number | null) => ({ maxMm, girths: [{ before, after }] });
    const limits = { maxMm: 1, girthMm: 2 };
    expect([comparison(1, 200, 202), comparison(1.01, 200, 200), comparison(0, 200, 202.1), comparison(0, null, 200), comparison(0, null, null), null, { problem: 'x' }].map((c) => isWithin(c, limits)))
      .toEqual([true, false, false, false, true, false, false]);
  });
});
