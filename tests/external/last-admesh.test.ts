import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import type { MeasuredCast } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { buildLast } from '@cast-to-last/pipeline/stages/build-last';
import { makePhantom } from '../phantoms/make-phantom.js';
import { admesh } from '../support/admesh.js';

/** Reference: admesh 0.98 (Debian), an STL checker that shares nothing with this program. */

const SEEDS = [7, 19];

describe.each(SEEDS)('the last of the phantom of seed %d', (seed) => {
  const { clean: mesh, landmarks, side } = makePhantom(seed, { triangles: 20_000, denseTriangles: 20_000, posed: false, top: 'cut', dents: 0, bumps: 0, ridges: 0, seam: false }).truth;
  const cast: MeasuredCast = { mesh, transform: identity(), settle: identity(), landmarks, measurements: [] };
  const aligned = { opening: boundaryLoops(mesh)[0], filled: new Uint8Array(mesh.positions.length / 3), side };

  it.each([
    ['closed where the cast ends', DEFAULT_RULES.last],
    ['cut flat', { ...DEFAULT_RULES.last, topHeightMm: 70 }],
    ['with 15 mm at the toes', { ...DEFAULT_RULES.last, toeAllowanceMm: 15 }],
    ['cut flat, with 15 mm at the toes', { ...DEFAULT_RULES.last, topHeightMm: 70, toeAllowanceMm: 15 }],
  ])('%s is one closed part without a fault, of the volume that is reported', async (_, rules) => {
    const last = await buildLast(cast, aligned, rules);
    const verdict = admesh(writeStl(last.mesh));
    expect(verdict).toMatchObject({ parts: 1, faults: 0, normals: 0 });
    expect(Math.abs(verdict.volume / last.volume - 1)).toBeLessThan(1e-4);
  });

  it('is found at fault where a triangle is missing', async () => {
    const { mesh: whole } = await buildLast(cast, aligned, DEFAULT_RULES.last);
    expect(admesh(writeStl({ ...whole, triangles: whole.triangles.slice(3) })).faults).toBeGreaterThan(0);
  });
});
