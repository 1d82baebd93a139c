import { describe, expect, it } from 'vitest';
import { stretchToes } from '@cast-to-last/foot/stretch-toes';

const landmarks = { medialBall: [190, 45, 15], lateralBall: [160, -45, 12], toeTip: [262, 20, 10] } as const;
const ballLine = (y: number): number => 160 + ((190 - 160) / 90) * (y + 45);

/** A grid of points in one plane z = 5, from heel to toe tip; triangles play no part. */
function grid(): Float64Array {
  const points: number[] = [];
  for (let x = 0; x <= 262; x += 2) for (let y = -50; y <= 50; y += 5) points.push(x, y, 5);
  return Float64Array.from(points);
}

const stretched = (positions: Float64Array, allowance: number): Float64Array =>
  stretchToes({ positions, triangles: new Uint32Array(0) }, landmarks, allowance).positions;

describe('stretchToes', () => {
  it('moves the toe tip by exactly the allowance', () => {
    expect([...stretched(Float64Array.from(landmarks.toeTip), 12.5)]).toEqual([274.5, 20, 10]);
  });

  it('moves nothing behind the ball line, bit for bit, and nothing off its y and z', () => {
    const before = grid();
    const after = stretched(before, 15);
    for (let i = 0; i < before.length; i += 3) {
      if (before[i] <= ballLine(before[i + 1])) expect(after[i]).toBe(before[i]);
      else expect(after[i]).toBeGreaterThanOrEqual(before[i]);
      expect(after[i + 1]).toBe(before[i + 1]);
      expect(after[i + 2]).toBe(before[i + 2]);
    }
  });

  it('never turns the order of points along X, even for the greatest allowance', () => {
    for (const y of [-50, 0, 50]) {
      const line = Float64Array.from({ length: 3 * 500 }, (_, i) => (i % 3 === 0 ? 150 + (i / 3) * 0.22 : i % 3 === 1 ? y : 5));
      const after = stretched(line, 30);
      for (let i = 3; i < after.length; i += 3) expect(after[i]).toBeGreaterThan(after[i - 3]);
    }
  });

  it('starts without a bend: close ahead of the ball line the move is of third order', () => {
    const at = (d: number): number => stretched(Float64Array.from([ballLine(0) + d, 0, 5]), 12)[0] - ballLine(0) - d;
    expect(at(1)).toBeLessThan(0.001);
    expect(at(2) / at(1)).toBeGreaterThan(7);
  });

  it('does not change the mesh it is given', () => {
    const before = grid();
    const copy = before.slice();
    stretched(before, 10);
    expect(before).toEqual(copy);
  });
});
