import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Extent } from '@cast-to-last/pipeline/marks/extent';
import { ExtentFinder } from '@cast-to-last/pipeline/marks/extent';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { findSpots } from '@cast-to-last/pipeline/marks/spots';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { fromPoint, withMark } from '../../support/marked.ts';

/** Curvature radii from 25 to 150 mm. */
const bare = ellipsoid([90, 60, 55], [0, 0, 0], 6);
const centre: [number, number, number] = [18, 60 * Math.sqrt(1 - (18 / 90) ** 2 - (9 / 55) ** 2), -9];
const dented = withMark(bare, fromPoint(centre), -2, 14);

/** The dent in the middle, and how far the ground beside it stands off. */
function measured(mesh: Mesh): { readonly extent: Extent; readonly beside: number } {
  const surface = inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
  const finder = new ExtentFinder(surface);
  const at = (v: number): number => Math.hypot(...centre.map((c, k) => c - surface.mesh.positions[3 * v + k]));
  const spot = findSpots(surface).find(({ vertex }) => at(vertex) < 4);
  const extent = spot === undefined ? null : finder.find(spot);
  if (extent === null) throw new Error('The dent was not measured.');
  const before = finder.masked.slice();
  const beside = finder.groundBeside(extent);
  expect(finder.masked).toEqual(before);
  return { extent, beside };
}

/** Waves across x, of this height and length, mm. */
const waved = ({ positions, triangles }: Mesh, height: number, length: number): Mesh => {
  const p = positions.slice();
  for (let i = 0; i < p.length; i += 3) p[i + 1] += height * Math.sin((2 * Math.PI * positions[i]) / length);
  return { positions: p, triangles };
};

describe('the ground beside a mark', () => {
  it('is even round a dent in a plain ellipsoid: hundredths of its depth', () => {
    const { extent, beside } = measured(dented);
    expect(extent.depth).toBeLessThan(-1.8);
    expect(beside).toBeLessThan(0.05 * -extent.depth);
  });

  it('is uneven where more of its kind lies round it: several times so among waves of 0.8 mm, 26 mm long', () => {
    expect(measured(waved(dented, 0.8, 26)).beside).toBeGreaterThan(3 * measured(dented).beside);
  });

  it('is as even where one more mark lies there, which less than a quarter of the places touch', () => {
    const other: [number, number, number] = [18, 60 * Math.sqrt(1 - (18 / 90) ** 2 - (15 / 55) ** 2), 15];
    const { extent, beside } = measured(withMark(dented, fromPoint(other), -3, 14));
    expect(beside).toBeLessThan(0.08 * -extent.depth);
  });

  it('cannot be told where none of it is sound', () => {
    const surface = inspectionSurface(dented, new Uint8Array(dented.positions.length / 3), true);
    const finder = new ExtentFinder(surface);
    const spot = findSpots(surface)[0];
    const extent = finder.find(spot);
    if (extent === null) throw new Error('The dent was not measured.');
    surface.unsure.fill(1);
    expect(finder.groundBeside(extent)).toBeNaN();
  });
});
