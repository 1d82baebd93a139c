import { describe, expect, it } from 'vitest';
import { anatomyAt } from '@cast-to-last/foot/anatomy';
import { rng } from '../support/rng.ts';

const FL = 260;

describe('likeness to the foot\'s own heights', () => {
  it.each([1, 2])('lies between 0 and 1, is the same on the mirrored foot and at any size (seed %i)', (seed) => {
    const random = rng(seed);
    let likely = 0;
    for (let i = 0; i < 500; i++) {
      const point = [random.range(-10, 270), random.range(-60, 60), random.range(0, 110)];
      const sign = random.below(2) === 0 ? 1 : -1;
      const here = anatomyAt(point, sign, FL, 'right');
      expect(here).toBeGreaterThanOrEqual(0);
      expect(here).toBeLessThanOrEqual(1);
      expect(anatomyAt([point[0], -point[1], point[2]], sign, FL, 'left')).toBe(here);
      expect(anatomyAt(point.map((c) => 1.3 * c), sign, 1.3 * FL, 'right')).toBeCloseTo(here, 9);
      likely += +(here > 0);
    }
    expect(likely).toBeGreaterThan(20);
    expect(likely).toBeLessThan(480);
  });

  it('is great at the malleoli (heights by ANSUR II: lateral 73 of 271 mm) and at the ball (0.74 FL), for a height and not for a hollow', () => {
    const lateral = [0.21 * FL, -0.13 * FL, (73 / 271) * FL];
    expect(anatomyAt(lateral, 1, FL, 'right')).toBeGreaterThan(0.6);
    expect(anatomyAt(lateral, -1, FL, 'right')).toBeLessThan(anatomyAt(lateral, 1, FL, 'right'));
    const ball = [0.74 * FL, 0.19 * FL, 0.06 * FL];
    expect(anatomyAt(ball, 1, FL, 'right')).toBeGreaterThan(0.4);
  });

  it('is 0 far from every one of them: on the front of the shin, above the toes, behind the leg', () => {
    for (const point of [[0.35 * FL, 0, 0.55 * FL], [0.95 * FL, 0, 0.4 * FL], [-0.2 * FL, 0, 0.6 * FL]]) {
      for (const sign of [1, -1]) expect(anatomyAt(point, sign, FL, 'left')).toBe(0);
    }
  });
});
