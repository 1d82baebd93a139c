import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makeBallScan } from '../phantoms/balls/make-ball-scan.js';
import { bookIn, ended, sampleScan } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';

const workshop = workshopService();
const gauge = makeBallScan(301, { balls: 2, diameter: 30, distance: 75, edge: 0.9, noise: 0.03, views: 8, round: 1, wrong: false, clutter: 1 });
const bytes = writeStl(gauge.mesh);
const today = new Date().toISOString().slice(0, 10);

const check = (say: Speaker, id: string, { diameterMm = 30, date = today, body = bytes }: { diameterMm?: number; date?: string; body?: Uint8Array } = {}) =>
  say.raw('POST', `/scanners/${id}/checks?diameterMm=${diameterMm}&distanceMm=75&date=${date}&fileName=gauge.stl&unit=${gauge.unit}`, body, { 'content-type': 'application/octet-stream' });

/** Uploads a sample scan that came from this scanner; its result's warnings. */
async function warningsOf(say: Speaker, scannerId: string): Promise<readonly string[]> {
  const { castId } = await bookIn(say);
  const scan = sampleScan('2044-left.stl');
  const { body: { id } } = await say('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: scan.length, scannerId });
  await say.raw('PATCH', `/uploads/${id}`, scan, { 'upload-offset': '0' });
  const { body } = await say('POST', `/uploads/${id}/finish`);
  return (await ended(say, body.revisionId)).summary.warnings.filter((text: string) => text.includes('The scanner'));
}

describe('a scanner', () => {
  it('is added, checked by its scan of the gauge, and its casts are warned until it is', async () => {
    const { assistant, maker } = workshop();
    expect((await assistant('POST', '/scanners', { name: 'bench' })).status).toBe(403);
    const { status, body: scanner } = await maker('POST', '/scanners', { name: 'bench' });
    expect([status, scanner.verdict, scanner.checkedOn]).toEqual([201, null, null]);
    expect((await maker('POST', '/scanners', { name: 'bench' })).body.code).toBe('already-there');
    expect(await warningsOf(assistant, scanner.id)).toEqual([expect.stringContaining('has no check on record')]);

    const made = await check(assistant, scanner.id);
    const kept = (await made.json()) as Record<string, any>;
    expect([made.status, kept.verdict, kept.content.balls.length, kept.content.spacing.errorMm]).toEqual([201, 'within-limits', 2, expect.closeTo(0, 1)]);
    const twice = await check(assistant, scanner.id);
    expect([twice.status, ((await twice.json()) as Record<string, any>).id]).toEqual([200, kept.id]);
    const { body: { items } } = await assistant('GET', '/scanners');
    expect(items).toMatchObject([{ id: scanner.id, checkedOn: today, verdict: 'within-limits', warnings: [] }]);
    expect(Date.parse(items[0].goodUntil) - Date.parse(today)).toBe(90 * 86_400_000);
    expect((await assistant('GET', `/scanners/${scanner.id}`)).body.checks).toEqual([kept]);
    expect(await warningsOf(assistant, scanner.id)).toEqual([]);
  });

  it('is refused a check that cannot be made, with what to do', async () => {
    const { assistant, maker } = workshop();
    const { body: scanner } = await maker('POST', '/scanners', { name: 'table' });
    const wrong = await (await check(assistant, scanner.id, { diameterMm: 61 })).json();
    expect(wrong).toMatchObject({ status: 422, code: expect.stringMatching(/ball/), remedy: expect.any(String) });
    expect(await (await check(assistant, scanner.id, { body: new TextEncoder().encode('words') })).json()).toMatchObject({ status: 422, code: 'not-a-mesh-file' });
    expect((await assistant('GET', `/scanners/${scanner.id}`)).body.checks).toEqual([]);
    expect((await check(assistant, '00000000-0000-4000-8000-000000000000')).status).toBe(404);
    expect((await assistant.raw('POST', `/scanners/${scanner.id}/checks?diameterMm=30&distanceMm=20`, bytes)).status).toBe(422);
  });

  it('is retired: no scan is taken from it until it is in use again', async () => {
    const { assistant, maker } = workshop();
    const { body: scanner } = await maker('POST', '/scanners', { name: 'old one' });
    const change = (version: number, retired: boolean) => maker('PATCH', `/scanners/${scanner.id}`, { retired }, { 'if-match': `"${version}"` });
    expect((await change(9, true)).status).toBe(412);
    const retired = await change(1, true);
    expect([retired.status, typeof retired.body.retiredAt]).toEqual([200, 'string']);
    const names = async (query = '') => (await assistant('GET', `/scanners${query}`)).body.items.map(({ name }: { name: string }) => name);
    expect(await names()).not.toContain('old one');
    expect(await names('?retired=yes')).toContain('old one');
    const { castId } = await bookIn(assistant);
    const begin = (scannerId: string) => assistant('POST', `/casts/${castId}/uploads`, { fileName: 'cast.stl', size: 10, scannerId });
    expect((await begin(scanner.id)).body.code).toBe('scanner-retired');
    expect((await begin('00000000-0000-4000-8000-000000000000')).body.faults[0].path).toBe('scannerId');
    await change(2, false);
    expect((await begin(scanner.id)).status).toBe(201);
  });
});
