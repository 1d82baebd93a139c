import { describe, expect, it } from 'vitest';
import { randomFrom } from '../random.js';
import { unturn } from './warps.js';

describe('unturn', () => {
  const angle = 0.3;
  const back = unturn({ angle, a: 0, b: 2, pivot: [180, 10], beyond: [1, 0], blend: [-19, 19] });

  it('leaves what stays and turns back rigidly what lies beyond the hinge', () => {
    const stays = Float64Array.of(120, 30, 40);
    back(stays);
    expect([...stays]).toEqual([120, 30, 40]);
    // (80, 5) from the pivot, turned up by the angle.
    const [u, v] = [80, 5];
    const turned = Float64Array.of(180 + u * Math.cos(angle) - v * Math.sin(angle), -12, 10 + u * Math.sin(angle) + v * Math.cos(angle));
    back(turned);
    expect(turned[0]).toBeCloseTo(260, 9);
    expect(turned[1]).toBe(-12);
    expect(turned[2]).toBeCloseTo(15, 9);
  });

  it('never folds space over where a foot lies (seed 5)', () => {
    const random = randomFrom(5, 'unturn');
    const at = (x: number, z: number): Float64Array => {
      const p = Float64Array.of(x, 0, z);
      back(p);
      return p;
    };
    for (let i = 0; i < 3000; i++) {
      const [x, z, h] = [random.between(100, 280), random.between(-4, 80), 1e-4];
      const [o, px, pz] = [at(x, z), at(x + h, z), at(x, z + h)];
      const area = ((px[0] - o[0]) * (pz[2] - o[2]) - (px[2] - o[2]) * (pz[0] - o[0])) / (h * h);
      expect(area).toBeGreaterThan(0.4);
    }
  });
});
