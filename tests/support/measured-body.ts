import { writeStl } from '@cast-to-last/geometry/formats/stl';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { makePhantom } from '../phantoms/make-phantom.js';
import type { PhantomOptions } from '../phantoms/phantom-options.js';

/** A generated cast as the steps of the last receive it: cleaned, in its settled foot frame. */
export async function measuredBody(seed: number, options: PhantomOptions = {}): Promise<LastBody> {
  const { scan, truth } = makePhantom(seed, { triangles: 30_000, denseTriangles: 30_000, unit: 'mm', ...options });
  const input = { bytes: writeStl(scan), fileName: 'cast.stl', side: truth.side, kind: 'positive', unit: 'mm' } as const;
  const { measured, aligned } = await checkScan(input, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, run) => run());
  return { mesh: measured.mesh, opening: aligned.opening, filled: aligned.filled, landmarks: measured.landmarks, side: aligned.side };
}
