import { describe, expect, it } from 'vitest';
import { archHeight } from '@cast-to-last/foot/arch-height';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';

const LENGTH = 260;
const MEDIAL = 40;

/**
 * A bar along x with one cross-section throughout: the sole flat from y = −40 to 0, then rising by `slope` to y = 30 and by
 * `edge` to the medial edge at y = 40; upright sides to z = 80, a flat top. Cells of about 1 × 2 mm, open at both ends.
 */
function bar(slope: number, edge: number): Mesh {
  const outline: [number, number][] = [];
  const sole = (y: number): number => slope * Math.min(Math.max(y, 0), 30) + edge * Math.max(y - 30, 0);
  for (let y = -MEDIAL; y <= MEDIAL; y++) outline.push([y, sole(y)]);
  for (let z = sole(MEDIAL) + 2; z < 80; z += 2) outline.push([MEDIAL, z]);
  for (let y = MEDIAL; y >= -MEDIAL; y -= 2) outline.push([y, 80]);
  for (let z = 78; z > 0; z -= 2) outline.push([-MEDIAL, z]);
  const rings = LENGTH / 2 + 1;
  const positions: number[] = [];
  for (let r = 0; r < rings; r++) for (const [y, z] of outline) positions.push(2 * r, y, z);
  const triangles: number[] = [];
  const n = outline.length;
  for (let r = 0; r + 1 < rings; r++) {
    for (let i = 0; i < n; i++) {
      const [a, b] = [r * n + i, r * n + ((i + 1) % n)];
      triangles.push(a, b, a + n, b, b + n, a + n);
    }
  }
  return { positions: new Float64Array(positions), triangles: Uint32Array.from(triangles) };
}

const heightOf = (mesh: Mesh, side: 'left' | 'right' = 'right', filled = new Uint8Array(mesh.positions.length / 3)) =>
  archHeight({ mesh, twin: twins(mesh), filled }, LENGTH, side);

/** Every triangle begins at its next corner, `times` over. */
const turned = ({ positions, triangles }: Mesh, times: number): Mesh => ({ positions, triangles: triangles.map((_, i, t) => t[i - (i % 3) + ((i + times) % 3)]) });

const mirrored = ({ positions, triangles }: Mesh): Mesh => ({
  positions: positions.map((c, i) => (i % 3 === 1 ? -c : c)),
  triangles: triangles.map((_, i, t) => t[i - (i % 3) + 2 - (i % 3)]),
});

describe('arch height', () => {
  // The greatest height is read in the middle of a cell: up to half a cell below the end of the sole.
  it.each([[0.3, 0.3, 12], [0.5, 0.5, 20], [0.5, 2, 15], [0.2, 3, 6], [0.9, 0.9, 36]])('rising by %d, at its edge by %d, the sole ends %d mm up', (slope, edge, height) => {
    const found = heightOf(bar(slope, edge))?.height ?? NaN;
    expect(found).toBeLessThanOrEqual(height + 1e-9);
    expect(found).toBeGreaterThan(height - slope);
  });

  it('is the same whichever corner a triangle begins with', () => {
    const mesh = bar(0.5, 2);
    const heights = [0, 1, 2].map((times) => heightOf(turned(mesh, times))?.height ?? NaN);
    expect(heights[1]).toBeCloseTo(heights[0], 9);
    expect(heights[2]).toBeCloseTo(heights[0], 9);
  });

  it('is the same of the mirrored other foot, and 0 on the flat outer side', () => {
    const mesh = bar(0.5, 2);
    expect(heightOf(mirrored(mesh), 'left')?.height).toBeCloseTo(heightOf(mesh)?.height ?? NaN, 9);
    expect(heightOf(mesh, 'left')?.height).toBeCloseTo(0, 9);
  });

  it('says how much of the place was made by repair, and nothing where the foot has no sole', () => {
    const mesh = bar(0.5, 2);
    expect(heightOf(mesh)?.onFilled).toBe(0);
    expect(heightOf(mesh, 'right', new Uint8Array(mesh.positions.length / 3).fill(1))?.onFilled).toBe(1);
    expect(heightOf(bar(1.3, 1.3))).toBeNull();
  });
});
