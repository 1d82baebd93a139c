import { describe, expect, it } from 'vitest';
import { patchGrid } from '@cast-to-last/pipeline/marks/learned/patch-grid';
import { PICTURE } from '@cast-to-last/pipeline/marks/learned/picture';

const { size, step } = PICTURE;
const HALF = ((size - 1) / 2) * step;

/** Points of a surface of revolution about the z axis, by polar distance along it and angle, the middle first. */
function laidFlat(reach: number, at: (s: number) => { readonly r: number; readonly z: number; readonly nr: number; readonly nz: number }) {
  const points: number[] = [];
  const normals: number[] = [];
  const flat: number[] = [];
  const put = (s: number, turn: number): void => {
    const { r, z, nr, nz } = at(s);
    points.push(r * Math.cos(turn), r * Math.sin(turn), z);
    normals.push(nr * Math.cos(turn), nr * Math.sin(turn), nz);
    flat.push(s * Math.cos(turn), s * Math.sin(turn));
  };
  put(0, 0);
  for (let s = 1; s <= reach; s++) for (let k = 0; k < 6 * s; k++) put(s, (2 * Math.PI * k) / (6 * s));
  return patchGrid(Float64Array.from(points), Float64Array.from(normals), Uint32Array.from({ length: points.length / 3 }, (_, i) => i), Float64Array.from(flat));
}

/** Distance of a cell from the middle on the flat, mm. */
const away = (cell: number): number => Math.hypot((cell % size) * step - HALF, Math.floor(cell / size) * step - HALF);

describe('patch on a grid', () => {
  it('of a plane is nothing, wherever it reaches', () => {
    const grid = laidFlat(20, (s) => ({ r: s, z: 0, nr: 0, nz: 1 }));
    for (let cell = 0; cell < size * size; cell++) {
      expect(Math.abs(grid.height[cell]) + Math.abs(grid.drawnIn[cell]) + Math.abs(grid.turned[cell])).toBeLessThan(1e-5);
      if (away(cell) < 20) expect(grid.covered[cell]).toBe(1);
      if (away(cell) > 23) expect(grid.covered[cell]).toBe(0);
    }
  });

  it('of a sphere has its heights, what it draws in and how it turns (closed forms)', () => {
    const R = 40;
    const grid = laidFlat(52, (s) => ({ r: R * Math.sin(s / R), z: R * Math.cos(s / R), nr: Math.sin(s / R), nz: Math.cos(s / R) }));
    for (let cell = 0; cell < size * size; cell++) {
      const s = away(cell);
      if (s > 34) continue;
      // Blurred by 1.1 mm: a second derivative of 1/R moves the mean by 1.1²/R.
      expect(Math.abs(grid.height[cell] - R * (Math.cos(s / R) - 1))).toBeLessThan(0.06);
      expect(Math.abs(grid.drawnIn[cell] - (R * Math.sin(s / R) - s))).toBeLessThan(0.06);
      expect(Math.abs(grid.turned[cell] - (Math.cos(s / R) - 1))).toBeLessThan(0.003);
      expect(grid.covered[cell]).toBe(1);
    }
  });
});
