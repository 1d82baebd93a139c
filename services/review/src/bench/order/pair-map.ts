import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import type { BenchWork } from './bench-work.js';

/** Colours both feet by how far each stands off the other, as the comparison laid them on each other. */
export async function layPairMap(work: BenchWork, { registration }: ComparisonReport, body: 'cleaned' | 'last'): Promise<void> {
  for (const foot of work.feet) await work.needFull(foot, body);
  const stage = work.stage.peek();
  for (const [side, of] of [['left', 'first'], ['right', 'second']] as const) {
    const stand = stage?.stands.get(side);
    for (const level of ['light', 'full'] as const) {
      const geometry = stand?.geometry(body, level);
      if (stand === undefined || geometry == null) continue;
      const values = await work.thread.ask('deviation', {
        first: `left:${body}`, second: `right:${body}`, mirrored: registration.mirrored, transform: registration.transform, of,
        positions: geometry.getAttribute('position').array as Float32Array, normals: geometry.getAttribute('normal').array as Float32Array,
      });
      if (values !== null) stand.deviate(body, level, values);
    }
  }
  stage?.draw();
}

/** Back to the change from scan to cleaned cast. */
export function putPairMapAway(work: BenchWork): void {
  for (const stand of work.stage.peek()?.stands.values() ?? []) for (const body of ['cleaned', 'last'] as const) for (const level of ['light', 'full'] as const) stand.deviate(body, level, null);
  work.stage.peek()?.draw();
}
