import { describe, expect, it } from 'vitest';
import { silhouette } from '@cast-to-last/geometry/views/contour-lines';
import { outlineReach } from '@cast-to-last/geometry/views/outline-reach';
import { project, viewBothWays, viewMesh } from '@cast-to-last/geometry/views/view';
import type { ViewAxes } from '@cast-to-last/geometry/views/view';
import { icosphere, uvTorus } from '../../support/meshes.js';
import { rng } from '../../support/rng.js';

const above: ViewAxes = { right: [1, 0, 0], up: [0, 1, 0] };
const side: ViewAxes = { right: [1, 0, 0], up: [0, 0, 1] };
const radii = (points: Float64Array): number[] => Array.from({ length: points.length / 2 }, (_, i) => Math.hypot(points[2 * i], points[2 * i + 1]));

describe('an outline with its reach', () => {
  it('of a sphere is its great circle within a twentieth of a sample, where without it a quarter is seen', () => {
    const sphere = icosphere(50, 6);
    for (const axes of [above, side]) {
      const view = viewMesh(sphere, axes, 1);
      const [line, ...others] = silhouette(view, outlineReach(view, sphere, project(axes, sphere.positions)));
      expect(others).toEqual([]);
      // An icosphere of this fineness lies up to 0.02 mm inside its sphere.
      for (const r of radii(line.points)) expect(Math.abs(r - 50)).toBeLessThan(0.08);
      expect(Math.max(...radii(silhouette(view)[0].points).map((r) => Math.abs(r - 50)))).toBeGreaterThan(0.2);
    }
  });

  it('of a torus has the hole, too, where it is', () => {
    const torus = uvTorus(40, 10, 192, 96);
    const view = viewMesh(torus, above, 0.8);
    const [outer, inner] = silhouette(view, outlineReach(view, torus, project(above, torus.positions)));
    for (const r of radii(outer.points)) expect(Math.abs(r - 50)).toBeLessThan(0.08);
    for (const r of radii(inner.points)) expect(Math.abs(r - 30)).toBeLessThan(0.08);
  });

  const seed = 20;
  it(`of a slanted plate is its edge, to thousandths of a sample (seed ${seed})`, () => {
    const random = rng(seed).next;
    for (let round = 0; round < 20; round++) {
      const turn = random() * Math.PI;
      const corners = [[-40, -9], [40, -9], [40, 9], [-40, 9]].map(([x, y]) => [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn), random()]);
      const plate = { positions: Float64Array.from(corners.flat()), triangles: new Uint32Array([0, 1, 2, 0, 2, 3]) };
      const view = viewMesh(plate, above, 0.7);
      const [line] = silhouette(view, outlineReach(view, plate, project(above, plate.positions)));
      // In the plate's own axes no point lies outside it, and but for the cut corners each lies on an edge.
      for (let i = 0; i < line.points.length; i += 2) {
        const x = line.points[i] * Math.cos(turn) + line.points[i + 1] * Math.sin(turn);
        const y = line.points[i + 1] * Math.cos(turn) - line.points[i] * Math.sin(turn);
        expect(Math.max(Math.abs(x) - 40, Math.abs(y) - 9)).toBeLessThan(1e-4);
        if (Math.abs(x) < 39 && Math.abs(y) < 8) expect.fail(`a point within the plate: ${x}, ${y}`);
        if (Math.abs(x) < 38.9) expect(Math.abs(Math.abs(y) - 9)).toBeLessThan(1e-3);
      }
    }
  });
});

describe('viewBothWays', () => {
  it.each([['up', above, { right: [1, 0, 0], up: [0, -1, 0] }], ['right', side, { right: [-1, 0, 0], up: [0, 0, 1] }]] as const)('with %s turned is the view and that from behind', (turn, axes, behindAxes) => {
    const { positions, triangles } = icosphere(30, 4);
    const body = { positions: positions.map((c, i) => [1.3 * c + 7, c - 3, 0.6 * c + 11][i % 3]), triangles };
    const { front, behind } = viewBothWays(body, axes, 0.9, turn);
    expect(front).toEqual(viewMesh(body, axes, 0.9));
    expect(behind.axes.right.map((c) => c + 0)).toEqual([...behindAxes.right]);
    expect(behind.axes.up.map((c) => c + 0)).toEqual([...behindAxes.up]);
    // The same surface: its highest point towards the new viewer, and the same outline turned round.
    const highest = ({ depth }: { depth: Float32Array }): number => depth.reduce((most, d) => (d > most ? d : most), -Infinity);
    expect(highest(behind)).toBeCloseTo(highest(viewMesh(body, behindAxes, 0.9)), 1);
    const covered = ({ depth }: { depth: Float32Array }): number => depth.reduce((n, d) => n + +!Number.isNaN(d), 0);
    expect(covered(behind)).toBe(covered(front));
    const at = behind.depth.findIndex((d) => d === highest(behind));
    const [u, v] = [behind.origin[0] + (at % behind.columns) * 0.9, behind.origin[1] + Math.floor(at / behind.columns) * 0.9];
    const x = behind.axes.right[0] * u;
    expect(Math.abs(x - 7)).toBeLessThan(1.5);
    expect(Math.abs((turn === 'up' ? -v : v) - (turn === 'up' ? -3 : 11))).toBeLessThan(1.5);
  });
});
