import { describe, expect, it } from 'vitest';
import { archHeight } from '@cast-to-last/foot/arch-height';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { withNoise } from '../support/bodies.ts';

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
  return along([...outline, ...back(2)], 2);
}

const RADIUS = 30;
/** Where a quarter circle of that radius has turned up by 45°. */
const ROUND_HEIGHT = RADIUS * (1 - Math.SQRT1_2);

/** The same whose sole is flat to y = 10 and then turns up in a quarter circle, in cells of about `cell` mm. */
function roundBar(cell: number): Mesh {
  const outline: [number, number][] = [];
  for (let y = -MEDIAL; y < MEDIAL - RADIUS; y += cell) outline.push([y, 0]);
  const steps = Math.round((RADIUS * Math.PI) / 2 / cell);
  for (let k = 0; k <= steps; k++) {
    const turn = (k / steps) * (Math.PI / 2);
    outline.push([MEDIAL - RADIUS + RADIUS * Math.sin(turn), RADIUS * (1 - Math.cos(turn))]);
  }
  for (let z = RADIUS + cell; z < 80; z += cell) outline.push([MEDIAL, z]);
  return along([...outline, ...back(cell)], cell);
}

/** The flat top and the lateral side of a bar. */
function back(cell: number): [number, number][] {
  const outline: [number, number][] = [];
  for (let y = MEDIAL; y >= -MEDIAL; y -= cell) outline.push([y, 80]);
  for (let z = 80 - cell; z > 0; z -= cell) outline.push([-MEDIAL, z]);
  return outline;
}

/** A cross-section drawn along x, rings about `cell` mm apart. */
function along(outline: readonly (readonly [number, number])[], cell: number): Mesh {
  const rings = Math.round(LENGTH / cell) + 1;
  const positions: number[] = [];
  for (let r = 0; r < rings; r++) for (const [y, z] of outline) positions.push((LENGTH * r) / (rings - 1), y, z);
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

const heightOf = (mesh: Mesh, side: 'left' | 'right' = 'right', filled = new Uint8Array(mesh.positions.length / 3), roughness = 0) =>
  archHeight({ mesh, twin: twins(mesh), filled }, LENGTH, side, roughness);

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

describe('arch height of a sole that turns up in a quarter circle', () => {
  const of = (mesh: Mesh, roughness: number) => heightOf(mesh, 'right', undefined, roughness) ?? { height: NaN, slide: NaN };

  it.each([1, 2, 4, 8])('is where it has turned by 45°, in cells of %d mm', (cell) => {
    expect(Math.abs(of(roundBar(cell), 0.02).height - ROUND_HEIGHT)).toBeLessThan(0.5);
  });

  it.each([[1, 0.1], [1, 0.2], [2, 0.2], [4, 0.3]])('stays there within its slide and the noise, in cells of %d mm under noise of %d mm, as a tape feels it', (cell, noise) => {
    const none = new Uint8Array(roundBar(cell).positions.length / 3);
    for (const seed of [1, 2, 3, 4]) {
      const { mesh } = feltSurface(withNoise(roundBar(cell), noise, seed), none);
      const { height, slide } = of(mesh, noise);
      expect(Math.abs(height - ROUND_HEIGHT)).toBeLessThan(Math.hypot(slide, 2 * 1.96 * noise));
      expect(Math.abs(height - ROUND_HEIGHT)).toBeLessThan(2);
    }
  });

  it('slides as far as the circle rises within the doubt about the limit', () => {
    const rise = (RADIUS * (Math.cos((41 * Math.PI) / 180) - Math.cos((49 * Math.PI) / 180))) / 2;
    expect(of(roundBar(1), 0.02).slide).toBeGreaterThan(0.9 * rise);
    expect(of(roundBar(1), 0.02).slide).toBeLessThan(1.1 * rise);
  });
});
