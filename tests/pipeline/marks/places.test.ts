import { describe, expect, it } from 'vitest';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { findPlaces } from '@cast-to-last/pipeline/marks/places';
import { ellipsoid } from '../../support/ellipsoid.ts';

const mesh = ellipsoid([90, 60, 55], [0, 0, 0], 6);
const surface = inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
const p = surface.mesh.positions;

/** Heights by the distance from points on the side. */
const heights = (at: (away: (x: number, z: number) => number) => number): Float32Array =>
  Float32Array.from(surface.areas, (_, v) => at((x, z) => Math.hypot(p[3 * v] - x, p[3 * v + 1] - 60 * Math.sqrt(1 - (x / 90) ** 2 - (z / 55) ** 2), p[3 * v + 2] - z)));
const cone = (height: number, radius: number, away: number): number => height * Math.max(0, 1 - away / radius);

describe('places', () => {
  it('are none where nothing stands off, or hardly anything, or only at a point', () => {
    expect(findPlaces(surface, heights(() => 0))).toEqual([]);
    expect(findPlaces(surface, heights((away) => cone(0.11, 12, away(0, 0))))).toEqual([]);
    expect(findPlaces(surface, heights((away) => cone(2, 2, away(0, 0))))).toEqual([]);
  });

  it('have the height, the sign and the size of what stands off', () => {
    const [dent, ...others] = findPlaces(surface, heights((away) => cone(-1.5, 10, away(10, -9))));
    expect(others).toEqual([]);
    expect(dent.height).toBeGreaterThan(-1.5);
    expect(dent.height).toBeLessThan(-1.3);
    // A cone of 10 mm falls to 15 % at 8.5 mm.
    expect(Math.abs(dent.radius - 8.5)).toBeLessThan(0.6);
    expect(Math.hypot(p[3 * dent.vertex] - 10, p[3 * dent.vertex + 2] + 9)).toBeLessThan(1.5);
  });

  it('with a valley between them are two, the higher first, and one of two peaks that hardly part them is one', () => {
    const two = findPlaces(surface, heights((away) => Math.max(cone(1, 12, away(0, 0)), cone(2, 12, away(18, 0)))));
    expect(two.map(({ height }) => Math.round(height))).toEqual([2, 1]);
    const one = findPlaces(surface, heights((away) => Math.max(cone(1, 12, away(0, 0)), cone(1.1, 12, away(5, 0)))));
    expect(one.length).toBe(1);
  });

  it('of two signs side by side are two', () => {
    const both = findPlaces(surface, heights((away) => cone(1, 10, away(0, 0)) + cone(-1.2, 10, away(14, 0))));
    expect(both.map(({ height }) => Math.sign(height))).toEqual([-1, 1]);
  });

  it('are not where repair made the surface', () => {
    const filled = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => +(Math.hypot(mesh.positions[3 * v], mesh.positions[3 * v + 1] - 60, mesh.positions[3 * v + 2]) < 20));
    const unsure = inspectionSurface(mesh, filled, true);
    expect(findPlaces(unsure, heights((away) => cone(2, 12, away(0, 0))))).toEqual([]);
  });
});
