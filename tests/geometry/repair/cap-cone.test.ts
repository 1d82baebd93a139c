import { describe, expect, it } from 'vitest';
import { capCone } from '@cast-to-last/geometry/repair/cap-cone';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';

/** An open tube of n sides, of radius 10 from z = 0, closed at its foot; its rim stands at `rim(i)`. */
function cup(n: number, rim: (i: number) => number) {
  const positions = [0, 0, 0];
  for (let i = 0; i < n; i++) positions.push(10 * Math.cos((2 * Math.PI * i) / n), 10 * Math.sin((2 * Math.PI * i) / n), 0);
  for (let i = 0; i < n; i++) positions.push(10 * Math.cos((2 * Math.PI * i) / n), 10 * Math.sin((2 * Math.PI * i) / n), rim(i));
  const triangles: number[] = [];
  for (let i = 0; i < n; i++) {
    const [a, b] = [1 + i, 1 + ((i + 1) % n)];
    triangles.push(0, b, a, a, b, b + n, a, b + n, a + n);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('capCone', () => {
  const area = (n: number): number => (n / 2) * 100 * Math.sin((2 * Math.PI) / n);

  it('is flat over a level rim: the exact volume of the prism', () => {
    const mesh = cup(24, () => 30);
    const closed = capCone(mesh, boundaryLoops(mesh)[0], [0, 0, 1]);
    expect(twins(closed).every((h) => h >= 0)).toBe(true);
    expect(signedVolume(closed)).toBeCloseTo(30 * area(24), 6);
  });

  it('rises to the highest tooth of a ragged rim, outward, with the cup as it was', () => {
    const mesh = cup(24, (i) => (i % 2 === 0 ? 30 : 24));
    const closed = capCone(mesh, boundaryLoops(mesh)[0], [0, 0, 1]);
    expect(twins(closed).every((h) => h >= 0)).toBe(true);
    expect(closed.positions.subarray(0, mesh.positions.length)).toEqual(mesh.positions);
    expect(Array.from(closed.positions.subarray(mesh.positions.length), (c) => Math.round(1e6 * c) / 1e6 + 0)).toEqual([0, 0, 30]);
    // A cone over a rim whose mean height is 27: a third of the 3 mm that its tip stands over it.
    expect(signedVolume(closed)).toBeCloseTo(28 * area(24), 6);
  });
});
