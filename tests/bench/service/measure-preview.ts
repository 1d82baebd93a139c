import type { BenchCast } from '../bench-cast.js';
import type { Figure } from './bench.js';
import { median } from '../median.js';
import { another, bookIn, startService, uploadParts } from './running-service.js';

/** From one decision on a mark to a new preview. */
export async function measurePreview(cast: BenchCast, stl: Uint8Array, runs: number): Promise<Figure[]> {
  const service = await startService();
  const times: number[] = [];
  try {
    const id = await uploadParts(service, await bookIn(service, 'P-1', cast.side), another(stl, 900));
    let castId = '';
    const ended = service.event((event, told) => event === 'cast' && told.state === 'to-review' && told.castId === castId);
    const made = await service.say('POST', `/uploads/${id}/finish`, {});
    castId = made.castId;
    await ended;
    const { marks } = await service.say('GET', `/revisions/${made.revisionId}/files/report.json`);
    for (const { id: mark, decision } of marks.slice(0, runs)) {
      let revisionId = '';
      const shown = service.event((event, told) => event === 'job' && told.revisionId === revisionId && told.preview.includes('view-cleaned.glb'));
      const over = service.event((event, told) => event === 'job' && told.revisionId === revisionId && told.state === 'done');
      const start = performance.now();
      ({ revisionId } = await service.say('POST', `/casts/${castId}/revisions`, { decisions: { marks: [{ id: mark, decision: decision === 'keep' ? 'smooth' : 'keep' }] } }));
      times.push(((await shown) - start) / 1000);
      await over;
    }
  } finally {
    await service.stop();
  }
  return [{ what: 'preview at full detail after one decision', bar: '≤ 1.5 s', measured: `${median(times).toFixed(2)} s, median of ${times.length}; longest ${Math.max(...times).toFixed(2)} s`, holds: median(times) <= 1.5 }];
}
