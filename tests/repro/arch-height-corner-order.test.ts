import { expect, it } from 'vitest';
import { archHeight } from '@cast-to-last/foot/arch-height';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { makePhantom } from '../phantoms/make-phantom.js';

/** The arch height of a coarse cast once hung on the corner that each triangle began with: 20.1 or 23.1 mm of one surface. */
it('takes one arch height of a coarse cast, whichever corners its triangles begin with', () => {
  const { scan, truth } = makePhantom(302, { triangles: 5000, denseTriangles: 20_000, posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false });
  const heights = [0, 1, 2].map((times) => {
    const mesh: Mesh = { positions: scan.positions, triangles: scan.triangles.map((_, i, t) => t[i - (i % 3) + ((i + times) % 3)]) };
    return archHeight({ mesh, twin: twins(mesh), filled: new Uint8Array(mesh.positions.length / 3) }, truth.landmarks.footLength, truth.side)?.height;
  });
  expect(heights[0]).toBeGreaterThan(10);
  expect(heights[1]).toBeCloseTo(heights[0] as number, 9);
  expect(heights[2]).toBeCloseTo(heights[0] as number, 9);
});
