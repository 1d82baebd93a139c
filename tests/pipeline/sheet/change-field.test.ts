import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { viewMesh } from '@cast-to-last/geometry/views/view';
import type { View, ViewAxes } from '@cast-to-last/geometry/views/view';
import { CHANGE_STEPS, changesShown } from '@cast-to-last/pipeline/sheet/change-areas';
import { changeField } from '@cast-to-last/pipeline/sheet/change-field';
import { icosphere } from '../../support/meshes.js';

const above: ViewAxes = { right: [1, 0, 0], up: [0, 1, 0] };
const CELL = 2;
const ball = icosphere(50, 5);
const view = (mesh: Mesh): View => viewMesh(mesh, above, CELL);

/** The ball with the vertices where `grow` says so moved outward by so many mm. */
const grown = (grow: (x: number, y: number, z: number) => number): Mesh => ({
  triangles: ball.triangles,
  positions: ball.positions.map((c, i, p) => {
    const k = i - (i % 3);
    return c * (1 + grow(p[k], p[k + 1], p[k + 2]) / 50);
  }),
});

/** Changes at samples whose place is less than `within` from the middle of the ball. */
function changesAt(last: Mesh, cast: Mesh, within: number): number[] {
  const shown = view(last);
  const field = changeField(shown, view(cast), Infinity);
  return Array.from(field.keys())
    .filter((k) => Math.hypot(shown.origin[0] + (k % shown.columns) * CELL, shown.origin[1] + Math.floor(k / shown.columns) * CELL) < within)
    .map((k) => field[k]);
}

describe('the change from cast to last', () => {
  it.each([-3, -1, -0.5, 0.5, 1, 3])('of a ball that grew by %d mm is that all over what is seen, and the sign is that of outside', (by) => {
    const changes = changesAt(grown(() => by), ball, 42);
    expect(changes.length).toBeGreaterThan(1000);
    for (const change of changes) expect(Math.abs(change - by)).toBeLessThan(0.25);
  });

  it.each([8, 14])('of a ball that grew by %d mm is that within 5 %%', (by) => {
    for (const change of changesAt(grown(() => by), ball, 40)) expect(Math.abs(change - by)).toBeLessThan(0.05 * by);
  });

  it('is exactly none where nothing moved', () => {
    expect(changesAt(ball, ball, 60).every((c) => c === 0 || Number.isNaN(c))).toBe(true);
  });

  it('is not told above the height that it is asked up to, nor where the surface is seen too steeply', () => {
    const shown = view(ball);
    const field = changeField(shown, shown, 30);
    const heights = Array.from(field.keys()).filter((k) => !Number.isNaN(field[k])).map((k) => shown.depth[k]);
    expect(Math.max(...heights)).toBeLessThanOrEqual(30);
    expect(Math.min(...heights)).toBeGreaterThan(0.2 * 50);
  });

  it('finds the tip of a body that was made longer where it was not before', () => {
    const longer: Mesh = { ...ball, positions: ball.positions.map((c, i) => (i % 3 === 0 && c > 0 ? c * (62 / 50) : c)) };
    const shown = view(longer);
    const field = changeField(shown, view(ball), Infinity);
    const { peaks } = changesShown(shown, field);
    expect(peaks).toHaveLength(1);
    expect(peaks[0].value).toBeGreaterThan(10.5);
    expect(peaks[0].value).toBeLessThan(12.5);
    expect(peaks[0].at[0]).toBeGreaterThan(50);
  });
});

describe('what the map shows of it', () => {
  const dome = (x: number, y: number, top: number, size: number) => (px: number, py: number, pz: number): number =>
    pz > 0 ? top * Math.max(0, 1 - ((px - x) ** 2 + (py - y) ** 2) / size ** 2) : 0;

  it('is one place a change, with the most in it as a signed number, the largest first', () => {
    const last = grown((x, y, z) => dome(-20, 0, 3, 15)(x, y, z) - dome(22, 5, 1.5, 12)(x, y, z));
    const shown = view(last);
    const { peaks, changes } = changesShown(shown, changeField(shown, view(ball), Infinity));
    expect(peaks.map((p) => Math.round(2 * p.value) / 2)).toEqual([3, -1.5]);
    expect(Math.hypot(peaks[0].at[0] + 20, peaks[0].at[1])).toBeLessThan(6);
    const counted = Object.fromEntries(changes.map((c) => [c.beyond, c.areas.length]));
    expect(counted).toEqual({ 0.5: 1, 2: 1, 5: 0, 10: 0, '-0.5': 1, '-2': 0, '-5': 0, '-10': 0 });
    // The paraboloid is beyond 0.5 of its 3 mm within √(5/6) of its radius.
    const [area] = changes[0].areas;
    const xs = area.points.filter((_, i) => i % 2 === 0);
    expect(Math.abs(Math.max(...xs) - Math.min(...xs) - 2 * 15 * Math.sqrt(5 / 6))).toBeLessThan(3);
  });

  it('leaves out places of a few samples', () => {
    const shown = view(ball);
    const field = new Float32Array(shown.depth.length);
    const middle = Math.floor(shown.rows / 2) * shown.columns + Math.floor(shown.columns / 2);
    field[middle] = 4;
    field[middle + 1] = 3;
    const { changes, peaks } = changesShown(shown, field);
    expect(peaks).toEqual([]);
    expect(changes.flatMap((c) => c.areas)).toEqual([]);
    expect(CHANGE_STEPS[0]).toBeLessThan(3);
  });
});
