import { beforeAll, describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { shapeToes } from '@cast-to-last/pipeline/last/shape-toes';
import type { Oddity } from '../../../phantoms/foot/foot-parameters.js';
import { castBody } from '../../../support/cast-body.js';
import { circleRadius } from '../../../support/circle-fit.js';
import { outsideOf } from '../../../support/surface-distance.js';

type Place = readonly [number, number];

function aheadOfBall({ landmarks: { medialBall: m, lateralBall: l } }: LastBody, [x, y]: Place): number {
  return x - m[0] - ((l[0] - m[0]) * (y - m[1])) / (l[1] - m[1]);
}

/** The corners of the convex outline of places, once round. */
function outlineOf(places: readonly Place[]): Place[] {
  const sorted = [...places].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (order: readonly Place[]): Place[] => {
    const chain: Place[] = [];
    for (const p of order) {
      while (chain.length > 1) {
        const [[ax, ay], [bx, by]] = chain.slice(-2);
        if ((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** Places half a millimetre apart along a closed line. */
function dense(corners: readonly Place[]): Place[] {
  const out: Place[] = [];
  let left = 0;
  corners.forEach((a, i) => {
    const b = corners[(i + 1) % corners.length];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    for (; left < length; left += 0.5) out.push([a[0] + ((b[0] - a[0]) * left) / length, a[1] + ((b[1] - a[1]) * left) / length]);
    left -= length;
  });
  return out;
}

/** Least radius over 10 mm of the outline seen from above, more than 6 mm ahead of the ball line, and how far the surface stays behind its convex outline in the middle of its pieces of 4 mm and more, 12 mm ahead and more. */
function outlineFigures(body: LastBody, { positions: p }: Mesh): { readonly sharpest: number; readonly dent: number } {
  const places: Place[] = [];
  for (let i = 0; i < p.length; i += 3) if (aheadOfBall(body, [p[i], p[i + 1]]) > -30) places.push([p[i], p[i + 1]]);
  const corners = outlineOf(places);
  const line = dense(corners);
  let sharpest = Infinity;
  line.forEach((at, i) => {
    if (aheadOfBall(body, at) > 6) sharpest = Math.min(sharpest, circleRadius(Array.from({ length: 21 }, (_, k) => line[(i + k - 10 + line.length) % line.length])));
  });
  let dent = 0;
  corners.forEach((a, k) => {
    const b = corners[(k + 1) % corners.length];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length < 4 || aheadOfBall(body, a) < 12 || aheadOfBall(body, b) < 12) return;
    const between = places.filter(([x, y]) => Math.abs(((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / length - length / 2) < length / 4);
    dent = Math.max(dent, between.reduce((least, [x, y]) => Math.min(least, ((y - a[1]) * (b[0] - a[0]) - (x - a[0]) * (b[1] - a[1])) / length), Infinity));
  });
  return { sharpest, dent };
}

const FEET: readonly { readonly seed: number; readonly side: 'left' | 'right'; readonly oddities: readonly Oddity[] }[] = [
  { seed: 51, side: 'left', oddities: [] },
  { seed: 52, side: 'right', oddities: [] },
  { seed: 53, side: 'left', oddities: ['hammer-toe'] },
  { seed: 54, side: 'right', oddities: ['long-second-toe'] },
  { seed: 55, side: 'left', oddities: ['bunion'] },
  { seed: 56, side: 'right', oddities: ['short-toes'] },
  { seed: 57, side: 'left', oddities: ['wide'] },
  { seed: 58, side: 'right', oddities: ['hammer-toe', 'bunion'] },
];

describe.each(FEET)('the toe outline with an allowance of 10 mm on cast $seed $side $oddities', ({ seed, side, oddities }) => {
  let body: LastBody;
  let shaped: LastBody;
  beforeAll(() => {
    body = castBody(seed, { side, oddities, triangles: 16_000 });
    shaped = shapeToes(body, { toeAllowanceMm: 10, toeBox: { level: true, heightMm: null } }).body;
  });

  it('is one fair curve: nowhere sharper than a radius of 18 mm, and without hollows', () => {
    const { sharpest, dent } = outlineFigures(body, shaped.mesh);
    expect(sharpest).toBeGreaterThan(18);
    expect(dent).toBeLessThan(0.25);
  });

  it('holds the toes, is as long as asked for, and stays one surface that does not cross itself', () => {
    const tip = (mesh: Mesh): number => mesh.positions.reduce((most, c, i) => (i % 3 === 0 ? Math.max(most, c) : most), -Infinity);
    expect(tip(shaped.mesh)).toBeCloseTo(tip(body.mesh) + 10, 6);
    const outside = outsideOf(shaped.mesh);
    const { positions: p } = body.mesh;
    let worst = 0;
    for (let i = 0; i < p.length; i += 3) if (aheadOfBall(body, [p[i], p[i + 1]]) > 0) worst = Math.max(worst, outside(p[i], p[i + 1], p[i + 2]));
    expect(worst).toBeLessThan(0.05);
    expect(twins(shaped.mesh).includes(-2)).toBe(false);
    expect(selfCrossings(shaped.mesh).filter((one) => one === 1).length).toBeLessThanOrEqual(selfCrossings(body.mesh).filter((one) => one === 1).length);
  });
});
