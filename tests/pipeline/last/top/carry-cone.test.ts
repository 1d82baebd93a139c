import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { carryCone } from '@cast-to-last/pipeline/last/top/carry-cone';
import { ringArea, ringCrosses, smoothRing } from '@cast-to-last/pipeline/last/top/smooth-ring';
import { SLOPE_DEFAULTS, surfaceSlope } from '@cast-to-last/pipeline/last/top/surface-slope';
import { levelPlane, onPlane } from '@cast-to-last/pipeline/last/top/top-plane';
import { rng } from '../../../support/rng.js';

const AROUND = 180;

/** A funnel from z = −30 to 0 whose radius at height z is `radius(z, angle)`; open at both ends, its upper edge first. */
function funnel(radius: (z: number, angle: number) => number): { mesh: Mesh; loop: Uint32Array } {
  const rows = 30;
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let r = 0; r <= rows; r++) {
    for (let i = 0; i < AROUND; i++) {
      const angle = (2 * Math.PI * i) / AROUND;
      const z = (-30 * r) / rows;
      positions.push(radius(z, angle) * Math.cos(angle), radius(z, angle) * Math.sin(angle), z);
    }
  }
  for (let r = 0; r < rows; r++) {
    for (let i = 0; i < AROUND; i++) {
      const [a, b] = [r * AROUND + i, r * AROUND + ((i + 1) % AROUND)];
      triangles.push(b, a, a + AROUND, b, a + AROUND, b + AROUND);
    }
  }
  return { mesh: { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) }, loop: Uint32Array.from({ length: AROUND }, (_, i) => i) };
}

/** Mean radius of the cone's vertices at a height, within a tenth of a millimetre. */
function radiusAt({ positions }: Mesh, z: number): number {
  const radii: number[] = [];
  for (let i = 0; i < positions.length; i += 3) if (Math.abs(positions[i + 2] - z) < 0.1) radii.push(Math.hypot(positions[i], positions[i + 1]));
  return radii.reduce((sum, r) => sum + r, 0) / radii.length;
}

describe('surfaceSlope', () => {
  it.each([[-0.8, -0.8], [-0.2, -0.2], [0, 0], [0.3, 0.3], [-3, -SLOPE_DEFAULTS.inward], [2, SLOPE_DEFAULTS.outward]])('of a funnel that goes %d mm sideways a mm is followed as %d', (slope, wanted) => {
    const { mesh, loop } = funnel((z) => 200 + slope * z);
    const ring = onPlane(levelPlane(0), mesh.positions.slice(0, 3 * loop.length));
    const steps = surfaceSlope(mesh, levelPlane(0), ring, 2 * Math.PI * 200);
    for (let i = 0; i < AROUND; i++) {
      expect(Math.abs(steps[3 * i + 2] - wanted)).toBeLessThan(0.01);
      expect(Math.abs(Math.hypot(steps[3 * i], steps[3 * i + 1]) - Math.abs(wanted))).toBeLessThan(0.01);
    }
  });
});

describe('carryCone', () => {
  it('starts with the surface\'s slope and turns upright as the closed form says', () => {
    const slope = -0.6;
    const { mesh, loop } = funnel((z) => 35 + slope * z);
    const cone = carryCone(mesh, loop, levelPlane(0), 60);
    expect(cone.turnsWithin).toBe(30);
    // Slope (1 − h/30)² up to 30 mm: sideways 10·(1 − (1 − h/30)³).
    const { positions: p } = cone.mesh;
    let above = 0;
    for (let i = 0; i < p.length; i += 3) {
      if (p[i + 2] <= 0) continue;
      const wanted = 35 + slope * 10 * (1 - Math.max(0, 1 - p[i + 2] / 30) ** 3);
      expect(Math.abs(Math.hypot(p[i], p[i + 1]) - wanted)).toBeLessThan(0.15);
      above++;
    }
    expect(above).toBeGreaterThan(1000);
    expect(boundaryLoops(cone.mesh)).toHaveLength(1);
    expect(Math.abs(ringArea(cone.outline) / (Math.PI * 29 ** 2) - 1)).toBeLessThan(0.01);
  });
  it('flares by less than 1.5 mm where the surface flares', () => {
    const { mesh, loop } = funnel((z) => 35 + 0.5 * z);
    const cone = carryCone(mesh, loop, levelPlane(0), 60);
    expect(radiusAt(cone.mesh, 60)).toBeLessThan(36.5);
    expect(radiusAt(cone.mesh, 60)).toBeGreaterThan(35.5);
  });
  it.each([61, 62, 63])('lets the texture at the cut fade (seed %d)', (seed) => {
    const random = rng(seed);
    const bumps = Array.from({ length: AROUND }, () => random.range(-0.2, 0.2));
    const { mesh, loop } = funnel((_z, angle) => 35 + bumps[Math.round((angle * AROUND) / (2 * Math.PI)) % AROUND]);
    const { outline } = carryCone(mesh, loop, levelPlane(0), 40);
    const radii = Array.from({ length: outline.length / 2 }, (_, i) => Math.hypot(outline[2 * i], outline[2 * i + 1]));
    const spread = (r: readonly number[]): number => {
      const mean = r.reduce((sum, x) => sum + x, 0) / r.length;
      return Math.sqrt(r.reduce((sum, x) => sum + (x - mean) ** 2, 0) / r.length);
    };
    // The texture's standard deviation is 0.115 mm; what the blur of 3 mm leaves is its long waves.
    expect(spread(radii)).toBeLessThan(0.08);
    expect(spread(bumps.map((b) => 35 + b))).toBeGreaterThan(0.09);
  });
  it('turns upright sooner where it would cross itself', () => {
    // Two lobes with a neck 12 mm thick between them; each wall would lean in by 11 mm.
    const { mesh, loop } = funnel((z, angle) => 6 + 30 * Math.cos(angle) ** 2 - 1.1 * z);
    const cone = carryCone(mesh, loop, levelPlane(0), 40);
    expect(cone.turnsWithin).toBeGreaterThan(0);
    expect(cone.turnsWithin).toBeLessThan(30);
    expect(ringCrosses(cone.outline)).toBe(false);
    expect(twins(cone.mesh).filter((h) => h < 0)).toHaveLength(AROUND);
  });
});

describe('rings', () => {
  it('are blurred without a drift, a circle to the closed form of its first wave', () => {
    const ring = Float64Array.from({ length: 720 }, (_, i) => (i % 2 === 0 ? Math.cos : Math.sin)((Math.PI * (i >> 1)) / 180));
    const smooth = smoothRing(ring, 2, 20);
    const shrunk = Math.exp(-(((20 * Math.PI) / 180) ** 2) / 2);
    for (let i = 0; i < 360; i++) expect(Math.hypot(smooth[2 * i], smooth[2 * i + 1])).toBeCloseTo(shrunk, 2);
  });
  it('are known to cross themselves or not', () => {
    expect(ringCrosses(new Float64Array([0, 0, 2, 0, 2, 2, 0, 2]))).toBe(false);
    expect(ringCrosses(new Float64Array([0, 0, 2, 2, 2, 0, 0, 2]))).toBe(true);
  });
});
