import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { weighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import { closeTop } from '@cast-to-last/pipeline/last/close-top';
import { admesh } from '../support/admesh.js';
import { closing, footBody } from '../support/top-bodies.js';

/** Reference: admesh 0.98 (Debian), an STL checker that shares nothing with this program. */

const WORKED = { thimble: { diameterMm: 12, depthMm: 40 }, pins: [{ diameterMm: 4, depthMm: 25, along: 0.3, across: 0.8 }], stationMarks: true };

describe.each([[7, 'right', 80], [19, 'left', 75], [23, 'left', 100]] as const)('the top of the phantom of seed %d, %s', (seed, side, height) => {
  const body = footBody(seed, side);
  it.each([
    ['a cut', { topHeightMm: height }],
    ['a cut along the top line', { top: { line: { backMm: 65, frontMm: 90 } } }],
    ['a cone', { topHeightMm: height, top: { coneMm: 35 } }],
    ['holes, marks and an engraved number', { topHeightMm: height, top: { ...WORKED, coneMm: 30, label: 'engraved' } }],
    ['a raised number along the top line', { top: { ...WORKED, line: { backMm: 65, frontMm: 90 }, coneMm: 30, label: 'raised' } }],
  ])('with %s is one closed part without a fault, of the volume that is reported', async (_, rules) => {
    const last = await withSolids((scope) => closeTop(scope, body, closing(rules), { orderNumber: '2041-B/17' }));
    const verdict = admesh(writeStl(last.mesh));
    expect(verdict).toMatchObject({ parts: 1, faults: 0 });
    // Those of a few slivers in the flat top.
    expect(verdict.normals).toBeLessThanOrEqual(3);
    expect(Math.abs(verdict.volume / (await weighSolid(last.mesh)) - 1)).toBeLessThan(1e-4);
  });
});
