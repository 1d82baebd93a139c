import { describe, expect, it } from 'vitest';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';
import { smoothWhole } from './filters.ts';

/** A ball with noise: what a filter leaves of the noise and of the radius is known. */
function noisyBall(amount: number) {
  const random = rng(5);
  const ball = icosphere(40, 4);
  const positions = ball.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const factor = 1 + (amount * random.normal()) / 40;
    for (let k = 0; k < 3; k++) positions[i + k] *= factor;
  }
  return { positions, triangles: ball.triangles };
}
const radii = (p: Float64Array): number[] => Array.from({ length: p.length / 3 }, (_, v) => Math.hypot(p[3 * v], p[3 * v + 1], p[3 * v + 2]));
const spread = (p: Float64Array): number => {
  const r = radii(p);
  const mean = r.reduce((a, b) => a + b, 0) / r.length;
  return Math.sqrt(r.reduce((sum, c) => sum + (c - mean) ** 2, 0) / r.length);
};

describe('smoothing of whole surfaces, for comparison', () => {
  it.each([{ method: 'Laplacian', rounds: 10 }, { method: 'Taubin', rounds: 30 }, { method: 'windowed sinc', rounds: 40, passBand: 0.1 }] as const)('$method takes most of the noise off a ball', (setting) => {
    const ball = noisyBall(0.2);
    expect(spread(smoothWhole(ball, setting).positions)).toBeLessThan(0.45 * spread(ball.positions));
  });

  it('Laplacian smoothing shrinks a ball, the other two hardly do', () => {
    const ball = icosphere(40, 4);
    const share = (setting: Parameters<typeof smoothWhole>[1]): number => signedVolume(smoothWhole(ball, setting)) / signedVolume(ball);
    expect(share({ method: 'Laplacian', rounds: 160 })).toBeLessThan(0.8);
    expect(share({ method: 'Taubin', rounds: 20 })).toBeCloseTo(1, 2);
    expect(share({ method: 'windowed sinc', rounds: 100, passBand: 0.1 })).toBeCloseTo(1, 2);
  });

  it('a pass band of everything changes next to nothing', () => {
    const ball = noisyBall(0.2);
    const out = smoothWhole(ball, { method: 'windowed sinc', rounds: 200, passBand: 1.99 }).positions;
    expect(Math.sqrt(out.reduce((sum, c, i) => sum + (c - ball.positions[i]) ** 2, 0) / out.length)).toBeLessThan(0.02);
  });
});
