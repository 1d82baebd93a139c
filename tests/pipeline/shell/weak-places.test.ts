import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { WEAK_PLACES, weakPlaces } from '@cast-to-last/pipeline/shell/weak-places';
import { icosphere, openCylinder } from '../../support/meshes.ts';

const RADIUS = 40;
const WALL = 4;
const ball = icosphere(RADIUS, 5);

/** Area of the cap of a sphere within an angle of its pole. */
const capArea = (angle: number): number => 2 * Math.PI * RADIUS ** 2 * (1 - Math.cos(angle));

/** One byte a vertex: 1 within an angle of the direction. */
const capOf = (mesh: Mesh, direction: readonly number[], angle: number): Uint8Array =>
  Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => +(Math.acos(Math.max(-1, Math.min(1, [0, 1, 2].reduce((s, k) => s + (mesh.positions[3 * v + k] * direction[k]) / RADIUS, 0)))) < angle));

const even = (mesh: Mesh): Float64Array => new Float64Array(mesh.positions.length / 3).fill(WALL);
const untouched = (mesh: Mesh): Uint8Array => new Uint8Array(mesh.positions.length / 3);

describe('weak places of a wall', () => {
  it('are none in an even wall, nor in one that swings by a quarter', () => {
    expect(weakPlaces(ball, even(ball), untouched(ball), WALL)).toEqual([]);
    const swings = even(ball).map((_, v) => WALL * (1 + 0.25 * Math.sin(ball.positions[3 * v] / 12)));
    expect(weakPlaces(ball, swings, untouched(ball), WALL)).toEqual([]);
  });

  it.each([0.15, 0.3, 0.6])('are found where the wall is thin, with place, area and least thickness (a cap of %f rad)', (angle) => {
    const cap = capOf(ball, [0, 1, 0], angle);
    const thickness = even(ball).map((_, v) => (cap[v] === 1 ? 1.5 + 0.5 * Math.abs(ball.positions[3 * v] / RADIUS) : WALL));
    const places = weakPlaces(ball, thickness, untouched(ball), WALL);
    expect(places).toHaveLength(1);
    const [{ kind, at, area, thickness: least }] = places;
    expect(kind).toBe('thin');
    expect(least).toBeCloseTo(1.5, 1);
    expect(Math.hypot(at[0], at[1] - (RADIUS * (1 + Math.cos(angle))) / 2, at[2])).toBeLessThan(1);
    // The edge of a place is known to about a vertex of the coarse surface.
    const edge = 2 * Math.PI * RADIUS * Math.sin(angle) * 1.3;
    expect(Math.abs(area - capArea(angle))).toBeLessThan(edge);
  });

  it('come largest first, thin and broken ones apart', () => {
    const [thin, hole] = [capOf(ball, [1, 0, 0], 0.2), capOf(ball, [0, 0, -1], 0.4)];
    const thickness = even(ball).map((_, v) => (hole[v] === 1 ? NaN : thin[v] === 1 ? 2 : WALL));
    const places = weakPlaces(ball, thickness, hole, WALL);
    expect(places.map(({ kind }) => kind)).toEqual(['broken', 'thin']);
    expect(places[0].thickness).toBe(0);
    expect(places[0].at[2]).toBeLessThan(-35);
    expect(places[1].at[0]).toBeGreaterThan(35);
    expect(places[1].thickness).toBeCloseTo(2, 9);
  });

  it('are not broken where repair closed a hole of the scan that has a wall before it, nor where no wall was seen beside it', () => {
    const hole = capOf(ball, [0, 0, -1], 0.3);
    expect(weakPlaces(ball, even(ball), hole, WALL)).toEqual([]);
    const unseen = even(ball).map((_, v) => (hole[v] === 1 ? NaN : WALL));
    expect(weakPlaces(ball, unseen, untouched(ball), WALL)).toEqual([]);
  });

  it('count from a size on', () => {
    const place = (area: number) => {
      const cap = capOf(ball, [0, 1, 0], Math.acos(1 - area / (2 * Math.PI * RADIUS ** 2)));
      return weakPlaces(ball, even(ball).map((_, v) => (cap[v] === 1 ? 1 : WALL)), untouched(ball), WALL);
    };
    expect(place(WEAK_PLACES.leastArea / 3)).toEqual([]);
    expect(place(3 * WEAK_PLACES.leastArea)).toHaveLength(1);
  });

  it('are not sought at the top edge, where the wall runs out', () => {
    const tube = openCylinder(30, 100, 120, 60);
    const heights = tube.positions.filter((_, i) => i % 3 === 2);
    const [low, high] = [Math.min(...heights), Math.max(...heights)];
    const band = (from: number, to: number) =>
      weakPlaces(tube, Float64Array.from(heights, (z) => (z >= from && z <= to ? 1 : WALL)), untouched(tube), WALL);
    expect(band(high - 5, high)).toEqual([]);
    const [place, ...others] = band((low + high) / 2 - 10, (low + high) / 2 + 10);
    expect(others).toEqual([]);
    expect(Math.abs(place.area - 2 * Math.PI * 30 * 20)).toBeLessThan(2 * Math.PI * 30 * 3);
  });
});
