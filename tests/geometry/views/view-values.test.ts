import { describe, expect, it } from 'vitest';
import { viewMesh } from '@cast-to-last/geometry/views/view';
import type { View, ViewAxes } from '@cast-to-last/geometry/views/view';
import { viewValues } from '@cast-to-last/geometry/views/view-values';
import { icosphere, merged } from '../../support/meshes.js';

const above: ViewAxes = { right: [1, 0, 0], up: [0, 1, 0] };
const below: ViewAxes = { right: [1, 0, 0], up: [0, -1, 0] };
const RADIUS = 50;
const sphere = icosphere(RADIUS, 4);

/** Each sample that has a value, with its paper coordinates. */
function samples({ columns, cell, origin }: View, values: Float32Array): { readonly u: number; readonly v: number; readonly value: number }[] {
  return Array.from(values, (value, k) => ({ u: origin[0] + (k % columns) * cell, v: origin[1] + Math.floor(k / columns) * cell, value })).filter(({ value }) => !Number.isNaN(value));
}

describe('viewValues', () => {
  it('are those of the side that is seen: a linear value exactly, at every sample of the surface', () => {
    for (const [axes, sign] of [[above, 1], [below, -1]] as const) {
      const view = viewMesh(sphere, axes, 2);
      const { positions: p } = sphere;
      const linear = Float64Array.from({ length: p.length / 3 }, (_, i) => 3 * p[3 * i] - p[3 * i + 1] + 1);
      const all = samples(view, viewValues(view, sphere, linear));
      expect(all).toHaveLength(view.depth.filter((d) => !Number.isNaN(d)).length);
      for (const { u, v, value } of all) expect(Math.abs(value - (3 * u - sign * v + 1))).toBeLessThan(1e-3);
      const heights = Float64Array.from({ length: p.length / 3 }, (_, i) => p[3 * i + 2]);
      for (const { value } of samples(view, viewValues(view, sphere, heights))) expect(sign * value).toBeGreaterThan(-1);
    }
  });

  it('are absent where a corner of the triangle has none', () => {
    const view = viewMesh(sphere, above, 2);
    const right = Float64Array.from({ length: sphere.positions.length / 3 }, (_, i) => (sphere.positions[3 * i] > 0 ? NaN : 7));
    const all = samples(view, viewValues(view, sphere, right));
    expect(all.length).toBeGreaterThan(700);
    for (const { u, value } of all) expect([u < 1, value]).toEqual([true, 7]);
  });

  it('are absent behind another body, and fit a view with more around it', () => {
    const roof = icosphere(20, 3);
    const lifted = { ...roof, positions: roof.positions.map((c, i) => c + (i % 3 === 2 ? 100 : 0)) };
    const view = viewMesh(merged(sphere, lifted), above, 2);
    const all = samples(view, viewValues(view, sphere, new Float64Array(sphere.positions.length / 3).fill(1)));
    expect(all.length).toBeGreaterThan(1000);
    for (const { u, v } of all) expect(Math.hypot(u, v)).toBeGreaterThan(18);
  });
});
