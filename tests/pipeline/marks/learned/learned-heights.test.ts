import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { learnedHeights } from '@cast-to-last/pipeline/marks/learned/learned-heights';
import type { MarkNetwork } from '@cast-to-last/pipeline/marks/learned/mark-network';
import { PICTURE } from '@cast-to-last/pipeline/marks/learned/picture';
import { findPlaces } from '@cast-to-last/pipeline/marks/places';
import { noisy } from '../../../support/disturb.ts';
import { ellipsoid } from '../../../support/ellipsoid.ts';
import { fromPoint, withMark } from '../../../support/marked.ts';
import { rng } from '../../../support/rng.ts';

/** Curvature radii from 25 to 150 mm: a shape that the network was never taught on. */
const bare = ellipsoid([90, 60, 55], [0, 0, 0], 6);
const surfaceOf = (mesh: Mesh): InspectionSurface => inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
const side = (x: number, z: number): [number, number, number] => [x, 60 * Math.sqrt(1 - (x / 90) ** 2 - (z / 55) ** 2), z];

describe('learned heights', () => {
  it('of a network that says the same of every place are the same everywhere', () => {
    const flat = { heights: () => new Float32Array(PICTURE.size ** 2).fill(0.75) } as unknown as MarkNetwork;
    const surface = surfaceOf(bare);
    const learned = learnedHeights(surface, flat);
    for (let v = 0; v < surface.areas.length; v++) if (surface.unsure[v] === 0) expect(Math.abs(learned[v] - 0.75)).toBeLessThan(1e-6);
  });

  it('show no place on the bare ellipsoid, with scan noise of 0.05 mm too (seed 1)', () => {
    for (const mesh of [bare, noisy(bare, 0.05, rng(1))]) {
      const surface = surfaceOf(mesh);
      expect(findPlaces(surface, learnedHeights(surface))).toEqual([]);
    }
  });

  it.each([['dent', -1, 10], ['dent', -2, 18], ['dent', -3, 26], ['bump', 1.2, 14], ['bump', 2.5, 22]])('show a %s of %f mm, %i mm wide, as the one place', (_, height, width) => {
    const centre = side(18, -9);
    const surface = surfaceOf(withMark(bare, fromPoint(centre), height, width));
    const [first, ...others] = findPlaces(surface, learnedHeights(surface));
    expect(first.height / height).toBeGreaterThan(0.15);
    expect(first.height / height).toBeLessThan(1.2);
    expect(Math.hypot(...centre.map((c, k) => c - surface.mesh.positions[3 * first.vertex + k]))).toBeLessThan(0.3 * width);
    for (const other of others) expect(Math.abs(other.height)).toBeLessThan(0.5 * Math.abs(first.height));
  });
});
