import { describe, expect, it } from 'vitest';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { mend } from '@cast-to-last/pipeline/marks/mend';
import { gridPlane } from '../../support/meshes.ts';

const MARGIN = 3;
const bulge = (x: number): number => -(x * x) / 300;

/** A barrel's side, `size` mm square, with a bump of 4 mm and such a radius mended, and how far off the barrel it is left within. */
function mended(size: number, radius: number) {
  const plane = gridPlane(size / 2, size / 2, size);
  const bump = (x: number, y: number): number => 4 * Math.max(0, 1 - (x * x + y * y) / radius ** 2) ** 2;
  const positions = plane.positions.map((c, i, all) => (i % 3 === 2 ? bulge(all[i - 2]) + bump(all[i - 2], all[i - 1]) : c));
  const surface = inspectionSurface({ positions, triangles: plane.triangles }, new Uint8Array(positions.length / 3), false);
  const p = surface.mesh.positions;
  const away = (v: number): number => Math.hypot(p[3 * v], p[3 * v + 1]);
  const vertices = Uint32Array.from(surface.areas.keys()).filter((v) => away(v) <= radius);
  const masked = new Uint8Array(surface.areas.length);
  for (const v of vertices) masked[v] = 1;
  const centre = vertices.reduce((best, v) => (away(v) < away(best) ? v : best));
  const { mesh, moved } = mend({ positions, triangles: plane.triangles }, surface, [{ vertices, centre, margin: MARGIN }], masked, new Uint8Array(positions.length / 3));
  let most = 0;
  for (let i = 0; i < positions.length; i += 3) most = Math.max(most, Math.abs(mesh.positions[i + 2] - bulge(mesh.positions[i])));
  return { most, moved };
}

describe('a patch put in the place of a mark', () => {
  it.each([20, 32, 40, 55])('carries the surroundings on over a mark of %d mm radius, in one window or many', (radius) => {
    expect(mended(200, radius).most).toBeLessThan(0.25);
  });

  it('is not made up where nothing sound is left to carry on', () => {
    expect(mended(60, 45).moved.every((flag) => flag === 0)).toBe(true);
  });
});
