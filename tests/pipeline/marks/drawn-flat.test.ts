import { describe, expect, it } from 'vitest';
import { fitSplinePatch, newPatchFoot, projectToPatch } from '@cast-to-last/geometry/splines/spline-patch';
import type { Holed } from '@cast-to-last/pipeline/marks/drawn-flat';
import { DRAWN, drawnFlat } from '@cast-to-last/pipeline/marks/drawn-flat';
import { FAIR } from '@cast-to-last/pipeline/marks/fair-surface';
import { rng } from '../../support/rng.ts';

const HOLE = 10;

/** Heights over the plane sampled about 1 mm apart in a disc, round a hole whose places weigh nothing. */
function holed(height: (u: number, v: number) => number, noise = 0): Holed {
  const random = rng(8);
  const half = HOLE + 11;
  const flat: number[] = [];
  const points: number[] = [];
  const weights: number[] = [];
  const beside: number[] = [];
  for (let a = -half; a <= half; a++) {
    for (let b = -half; b <= half; b++) {
      const [u, v] = [a + random.range(-0.3, 0.3), b + random.range(-0.3, 0.3)];
      const away = Math.hypot(u, v);
      if (away > half) continue;
      flat.push(u, v);
      points.push(u, v, height(u, v) + noise * random.normal());
      weights.push(away <= HOLE ? 0 : 1);
      beside.push(away > HOLE && away <= HOLE + DRAWN.compared ? 1 : 0);
    }
  }
  return { flat: Float64Array.from(flat), points: Float64Array.from(points), weights: Float64Array.from(weights), beside: Uint8Array.from(beside), half };
}

/** Root mean square within the hole between the surface and the patch fitted over these flat coordinates, mm. */
function missInHole(ground: Holed, flat: Float64Array, height: (u: number, v: number) => number): number {
  const patch = fitSplinePatch(flat, ground.points, ground.weights, { half: ground.half, ...FAIR });
  const foot = newPatchFoot();
  let [sum, count] = [0, 0];
  for (let i = 0; i < ground.weights.length; i++) {
    if (ground.weights[i] > 0) continue;
    const [u, v] = [ground.flat[2 * i], ground.flat[2 * i + 1]];
    [foot.u, foot.v] = [flat[2 * i], flat[2 * i + 1]];
    projectToPatch(patch, u, v, height(u, v), foot, 4);
    sum += foot.over ** 2;
    count++;
  }
  return Math.sqrt(sum / count);
}

describe('the flat over which a fair surface is carried on', () => {
  it.each([0, 0.5, 1.2, 2.4])('makes an edge that runs on, turned by %f, be met at least twice as well', (turn) => {
    const edge = (u: number, v: number): number => {
      const across = Math.cos(turn) * u + Math.sin(turn) * v;
      return -2.5 * Math.log1p(Math.exp(across / 3));
    };
    const ground = holed(edge, 0.03);
    const even = missInHole(ground, ground.flat, edge);
    expect(even).toBeGreaterThan(0.05);
    expect(missInHole(ground, drawnFlat(ground), edge)).toBeLessThan(even / 2);
  });

  it('loses nothing on a bowl, which bends alike in all directions', () => {
    const bowl = (u: number, v: number): number => 50 - Math.sqrt(2500 - u * u - v * v);
    const ground = holed(bowl, 0.03);
    expect(missInHole(ground, drawnFlat(ground), bowl)).toBeLessThan(1.2 * missInHole(ground, ground.flat, bowl) + 0.01);
  });

  it('is as it was where nothing beside the hole could be compared', () => {
    const ground = holed((u) => u * u / 60);
    const lone = { ...ground, beside: new Uint8Array(ground.beside.length) };
    const flat = drawnFlat(lone);
    const place = (of: Float64Array, i: number): number => Math.hypot(of[2 * i], of[2 * i + 1]);
    for (let i = 0; i < ground.weights.length; i += 7) expect(place(flat, i)).toBeCloseTo(place(ground.flat, i), 9);
  });

  it('keeps place by place the distance across and draws together along only', () => {
    const edge = (u: number): number => -2.5 * Math.log1p(Math.exp(u / 3));
    const ground = holed(edge);
    const flat = drawnFlat(ground);
    let most = 0;
    for (let i = 0; i < ground.weights.length; i++) {
      expect(Math.abs(Math.abs(flat[2 * i]) - Math.abs(ground.flat[2 * i]))).toBeLessThan(1);
      if (Math.abs(flat[2 * i + 1]) > 1) most = Math.max(most, Math.abs(ground.flat[2 * i + 1]) / Math.abs(flat[2 * i + 1]));
    }
    expect(most).toBeGreaterThan(1.2);
  });
});
