import { describe, expect, it } from 'vitest';
import { contactPlane } from '@cast-to-last/foot/position/contact-plane';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import { soleSheet, standing } from '../../support/standing.ts';
import { rng } from '../../support/rng.ts';

const fitted = (height: (x: number, y: number) => number) => {
  const cast = standing(soleSheet(height));
  return contactPlane(cast, soleVertices(cast));
};

describe('contactPlane', () => {
  it.each([1, 2, 3, 4])('is the plate that a sole lies on, whatever stands off it (seed %i)', (seed) => {
    const random = rng(seed);
    const [a, b, c] = [random.range(-0.3, 0.3), random.range(-0.2, 0.2), random.range(-5, 5)];
    const [hx, hy] = [random.range(60, 200), random.range(-20, 20)];
    const plane = fitted((x, y) => a * x + b * y + c + (Math.hypot(x - hx, y - hy) < 30 ? 12 : 0));
    expect(plane?.a).toBeCloseTo(a, 9);
    expect(plane?.b).toBeCloseTo(b, 9);
    expect(plane?.c).toBeCloseTo(c, 7);
  });

  it('averages noise away instead of lying on its lowest points', () => {
    const random = rng(5);
    const plane = fitted((x) => 0.1 * x + 0.1 * random.normal());
    expect(plane?.a).toBeCloseTo(0.1, 4);
    expect(Math.abs(plane?.c ?? 9)).toBeLessThan(0.02);
  });

  it('counts the surface that touches, and leaves out what is farther off than a millimetre', () => {
    const stepped = fitted((x) => (x < 181 ? 0 : 1.2));
    expect(Math.abs((stepped?.area ?? 0) - 181 * 80)).toBeLessThan(200);
    expect(Math.abs(stepped?.a ?? 9)).toBeLessThan(1e-6);
    expect(fitted((x) => (x < 181 ? 0 : 0.8))?.area).toBeGreaterThan(250 * 80);
  });

  it('is none where nothing can be leaned on', () => {
    const cast = standing(soleSheet(() => 0));
    expect(contactPlane(cast, new Uint32Array(0))).toBeNull();
    expect(contactPlane(cast, Uint32Array.from({ length: 30 }, (_, i) => i))).toBeNull();
  });
});
