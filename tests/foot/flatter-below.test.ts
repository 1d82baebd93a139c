import { describe, expect, it } from 'vitest';
import { flatterBelow } from '@cast-to-last/foot/flatter-below';

/** Half a round bar 260 mm long that lies on its flat, pitched about Y; `over` puts its dome below. */
function bar(pitchDeg: number, over: boolean): number {
  const points: number[][] = [];
  for (let x = 0; x <= 260; x += 5) {
    for (let y = -45; y <= 45; y += 5) points.push([x, y, 0], [x, y, Math.sqrt(50 ** 2 - y ** 2)]);
    points.push([x, -50, 0], [x, 50, 0]);
  }
  const turn = (pitchDeg * Math.PI) / 180;
  const [along, up] = [0, 1].map((k) => Float64Array.from(points, ([x, , z]) => (k === 0 ? x * Math.cos(turn) + z * Math.sin(turn) : (over ? -1 : 1) * (z * Math.cos(turn) - x * Math.sin(turn)))));
  const from = Math.min(...along);
  return flatterBelow(along, Float64Array.from(points, ([, y]) => y), up, from, Math.max(...along) - from);
}

describe('flatterBelow', () => {
  // A dome of radius 50 lies within 7.8 mm of its top over 2 √(50² − 42.2²) = 54 mm of 100: points 5 mm apart show 50.
  it('is the flat\'s whole breadth less what of a dome lies near its top', () => {
    expect(bar(0, false)).toBeCloseTo(0.5, 1);
    expect(bar(0, true)).toBeCloseTo(-0.5, 1);
  });

  it('has the same sign however the bar is pitched', () => {
    for (const pitch of [-20, 10, 20]) {
      expect(bar(pitch, false), `${pitch}`).toBeGreaterThan(0.2);
      expect(bar(pitch, true), `${pitch}`).toBeLessThan(-0.2);
    }
  });
});
