import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { findDots } from '@cast-to-last/pipeline/marks/dots';
import { ExtentFinder } from '@cast-to-last/pipeline/marks/extent';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { fromPoint, withMark } from '../../support/marked.ts';

/** Curvature radii from 25 to 150 mm. */
const bare = ellipsoid([90, 60, 55], [0, 0, 0], 6);
const surfaceOf = (mesh: Mesh): InspectionSurface => inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
const side = (x: number, z: number): [number, number, number] => [x, 60 * Math.sqrt(1 - (x / 90) ** 2 - (z / 55) ** 2), z];

/** Learned heights that fall evenly from a middle. */
const cone = ({ mesh: { positions: p }, areas }: InspectionSurface, middle: readonly number[], height: number, radius: number): Float32Array =>
  Float32Array.from(areas, (_, v) => height * Math.max(0, 1 - Math.hypot(...middle.map((c, k) => c - p[3 * v + k])) / radius));
const both = (a: Float32Array, b: Float32Array): Float32Array => a.map((height, v) => height + b[v]);

describe('dents and bumps', () => {
  const [one, other] = [side(0, -9), side(30, -9)];
  const surface = surfaceOf(withMark(withMark(bare, fromPoint(one), -2, 16), fromPoint(other), 1.4, 14));
  const learned = both(cone(surface, one, -1.1, 8), cone(surface, other, 0.9, 7));
  const found = findDots(surface, new ExtentFinder(surface), learned, 0.3);

  it('are measured where the learned heights show them, however far those fall short', () => {
    expect(found.length).toBe(2);
    expect(Math.abs(found[0].depth + 2)).toBeLessThan(0.15);
    expect(Math.abs(found[1].depth - 1.4)).toBeLessThan(0.15);
    expect(Math.hypot(...one.map((c, k) => c - found[0].centre[k]))).toBeLessThan(2.5);
  });

  it('are none where the learned heights show too little, or where less stands off than the rules ask for', () => {
    expect(findDots(surface, new ExtentFinder(surface), learned.map((h) => 0.3 * h), 0.3)).toEqual([]);
    expect(findDots(surface, new ExtentFinder(surface), learned, 2.5)).toEqual([]);
  });

  it('have the learned depth where nothing can be measured', () => {
    const plain = surfaceOf(bare);
    const [dot, ...others] = findDots(plain, new ExtentFinder(plain), cone(plain, one, -1.2, 9), 0.3);
    expect(others).toEqual([]);
    expect(Math.abs(dot.depth + 1.2)).toBeLessThan(0.25);
    expect(dot.margin).toBeGreaterThan(0);
  });

  it('leave out the rim of a deeper one beside it', () => {
    const rim = both(cone(surface, one, -1.1, 8), cone(surface, side(13, -9), 0.5, 6));
    expect(findDots(surface, new ExtentFinder(surface), rim, 0.3).length).toBe(1);
  });
});
