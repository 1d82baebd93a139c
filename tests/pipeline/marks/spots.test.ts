import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { ExtentFinder } from '@cast-to-last/pipeline/marks/extent';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { Spot } from '@cast-to-last/pipeline/marks/spots';
import { findSpots } from '@cast-to-last/pipeline/marks/spots';
import { noisy } from '../../support/disturb.ts';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { fromPoint, withMark } from '../../support/marked.ts';
import { rng } from '../../support/rng.ts';

/** Curvature radii from 25 to 150 mm; edges of 0.9 to 1.6 mm, near the spacing at which marks are sought. */
const bare = ellipsoid([90, 60, 55], [0, 0, 0], 6);
const surfaceOf = (mesh: Mesh): InspectionSurface => inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);

/** A place on the ellipsoid's side, below its top. */
const place = (x: number, z: number): [number, number, number] => [x, 60 * Math.sqrt(1 - (x / 90) ** 2 - (z / 55) ** 2), z];

const near = (surface: InspectionSurface, spot: Spot, centre: readonly number[]): number => Math.hypot(...centre.map((c, k) => c - surface.mesh.positions[3 * spot.vertex + k]));

describe('spots', () => {
  it('are none on the bare ellipsoid, with scan noise of 0.05 mm too (seed 1)', () => {
    expect(findSpots(surfaceOf(bare))).toEqual([]);
    expect(findSpots(surfaceOf(noisy(bare, 0.05, rng(1))))).toEqual([]);
  });

  it.each([['dent', -1, 10], ['dent', -2, 18], ['dent', -3, 26], ['bump', 1.2, 14], ['bump', 2.5, 22]])(
    'a %s of %f mm, %i mm wide, is the highest of them, and its extent has its depth and width',
    (_, height, width) => {
      const centre = place(18, -9);
      const surface = surfaceOf(withMark(bare, fromPoint(centre), height, width));
      const [spot] = findSpots(surface);
      // The centre is on the bare surface; the mark's tip stands off it by its height.
      expect(near(surface, spot, centre)).toBeLessThan(Math.hypot(height, 1.5));
      expect(Math.abs(spot.height)).toBeGreaterThan(0.75 * Math.abs(height));
      expect(Math.sign(spot.height)).toBe(Math.sign(height));
      const extent = new ExtentFinder(surface).find(spot);
      // Cells of 1.5 mm average the tip: (π·0.75/width)² / 2 of a depth of 1 mm and a width of 10 mm are 3 %, and the fair
      // surface misses the ellipsoid by some hundredths.
      expect(Math.abs((extent?.depth ?? 0) - height)).toBeLessThan(0.06 * Math.abs(height) + 0.05);
      // A mark ends where it stands off by 12 % of its depth: at 0.387 of its width from the middle; vertices are 1.5 mm apart.
      expect(Math.abs((extent?.width ?? 0) - 0.775 * width)).toBeLessThan(3);
      expect(Math.abs((extent?.length ?? 0) - 0.775 * width)).toBeLessThan(3);
      expect(Math.hypot(...centre.map((c, k) => c - (extent?.centre[k] ?? 0)))).toBeLessThan(Math.abs(height) + 1);
      expect(extent?.doubt).toBeLessThan(0.3 * Math.abs(height));
    },
  );

  it('are not where repair made the surface', () => {
    const centre = place(18, -9);
    const mesh = withMark(bare, fromPoint(centre), -2, 16);
    const filled = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => +(fromPoint(centre)(bare.positions[3 * v], bare.positions[3 * v + 1], bare.positions[3 * v + 2]) < 14));
    const spots = findSpots(inspectionSurface(mesh, filled, true));
    expect(findSpots(surfaceOf(mesh)).length).toBeGreaterThan(0);
    for (const spot of spots) expect(Math.abs(spot.height)).toBeLessThan(1);
  });

  it('two side by side, 30 mm apart, are two', () => {
    const centres = [place(3, -9), place(33, -9)];
    const surface = surfaceOf(centres.reduce((mesh, c) => withMark(mesh, fromPoint(c), -1.5, 14), bare));
    const spots = findSpots(surface).filter((s) => Math.abs(s.height) > 0.8);
    for (const c of centres) expect(spots.some((s) => near(surface, s, c) < 2.5)).toBe(true);
    expect(spots.every((s) => centres.some((c) => near(surface, s, c) < 6))).toBe(true);
  });

  it('of a ridge that runs on both ways show less than half of its height', () => {
    // Round the ellipsoid in the plane x = 10, 6 mm wide. Of six directions one lies within 15° of it.
    const surface = surfaceOf(withMark(bare, (x) => Math.abs(x - 10), 1.5, 6));
    for (const spot of findSpots(surface)) expect(Math.abs(spot.height)).toBeLessThan(0.75);
  });
});

describe('extent', () => {
  it('is none where nothing stands off, whatever spot it is asked about', () => {
    const centre = place(0, -9);
    const [spot] = findSpots(surfaceOf(withMark(bare, fromPoint(centre), -1.5, 14)));
    const surface = surfaceOf(bare);
    let nearest = spot;
    for (let vertex = 0; vertex < surface.areas.length; vertex++) {
      if (near(surface, { ...spot, vertex }, centre) < near(surface, nearest, centre)) nearest = { ...spot, vertex };
    }
    expect(near(surface, nearest, centre)).toBeLessThan(2);
    expect(new ExtentFinder(surface).find(nearest)).toBeNull();
  });

  it('of a dent beside a deeper one is itself once the deeper one steers nothing', () => {
    const [shallow, deep] = [place(0, -9), place(21, -9)];
    const surface = surfaceOf(withMark(withMark(bare, fromPoint(shallow), -1, 12), fromPoint(deep), -4, 20));
    const finder = new ExtentFinder(surface);
    const spots = findSpots(surface);
    const at = (c: readonly number[]): Spot => spots.reduce((a, b) => (near(surface, b, c) < near(surface, a, c) ? b : a));
    const found = finder.find(at(deep));
    expect(Math.abs((found?.depth ?? 0) + 4)).toBeLessThan(0.4);
    for (const v of found?.vertices ?? []) finder.masked[v] = 1;
    expect(Math.abs((finder.find(at(shallow))?.depth ?? 0) + 1)).toBeLessThan(0.25);
  });
});
