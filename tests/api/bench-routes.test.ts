import { decode } from 'fast-png';
import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { workshopService } from '../support/api-service.js';

const workshop = workshopService();

describe('what the bench asks of the service', () => {
  it('has pictures of a result, and rules for one cast alone', async () => {
    const { assistant, maker, administrator } = workshop();
    const { castId } = await bookIn(assistant, { side: 'left' });
    const { body: begun } = await upload(assistant, castId, sampleScan('2044-left.stl'));
    const first = await ended(assistant, begun.revisionId);
    expect(first.state).toBe('done');

    const seen: Record<string, readonly string[]> = {};
    for (const view of ['top', 'sole', 'outer']) {
      const response = await assistant.raw('GET', `/revisions/${first.id}/pictures/${view}`);
      expect(response.headers.get('content-type')).toBe('image/png');
      const picture = decode(new Uint8Array(await response.arrayBuffer()));
      const place = JSON.parse(response.headers.get('picture-place') ?? 'null');
      expect(picture).toMatchObject({ channels: 4, height: place.rows });
      // The foot is longer than it is wide, and stands on a clear ground.
      expect(view === 'outer' ? picture.width > picture.height : picture.height > 1.5 * picture.width).toBe(true);
      expect(picture.data[3]).toBe(0);
      expect(picture.data.filter((value, i) => i % 4 === 3 && value === 255).length).toBeGreaterThan(0.3 * picture.width * picture.height);
      seen[view] = place.seen;
      const again = await assistant.raw('GET', `/revisions/${first.id}/pictures/${view}`, undefined, { 'if-none-match': response.headers.get('etag') ?? '' });
      expect(again.status).toBe(304);
    }
    // What is seen from above is not seen from below.
    expect(seen.top.filter((id) => seen.sole.includes(id))).toEqual([]);
    expect((await assistant('GET', `/revisions/${first.id}/pictures/inside-out`)).status).toBe(404);
    expect((await assistant('GET', `/revisions/${first.id}/pictures/top?body=shoe`)).status).toBe(422);

    const { content } = (await maker('GET', `/rules/${first.rules.id}`)).body;
    const before = (await maker('GET', '/rules')).body.items.length;
    expect((await assistant('POST', `/casts/${castId}/rules`, { content })).status).toBe(403);
    const own = await maker('POST', `/casts/${castId}/rules`, { content: { ...content, last: { ...content.last, toeAllowanceMm: 7 } } });
    expect(own.status).toBe(201);
    expect(own.body.version).toMatch(/, changed for this cast$/);
    expect((await maker('GET', '/rules')).body.items.length).toBe(before);
    const twice = await maker('POST', `/casts/${castId}/rules`, { content: (await maker('GET', `/rules/${own.body.rulesId}`)).body.content });
    expect(twice.body.version).toBe(own.body.version);
    const { body: asked } = await maker('POST', `/casts/${castId}/revisions`, { rulesId: own.body.rulesId });
    const second = await ended(maker, asked.revisionId);
    const report = (await maker('GET', `/revisions/${second.id}/files/report.json`)).body;
    expect(report.rules.version).toBe(own.body.version);
    expect(report.last.allowances.toeMm).toBe(7);

    const cast = await maker('GET', `/casts/${castId}`);
    await administrator('POST', `/revisions/${second.id}/approval`, { verdict: 'approved', fingerprint: second.fingerprint }, { 'if-match': `"${cast.body.version}"` });
    expect((await assistant('GET', `/casts/${castId}/approvals`)).body.items).toMatchObject([{ verdict: 'approved', personName: 'First' }]);
  });
});
