import { describe, expect, it } from 'vitest';
import type { Point } from '@cast-to-last/foot/landmarks';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { turnedBody } from '@cast-to-last/geometry/solids/turned-body';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makingRules } from '@cast-to-last/pipeline/rules/making-rules';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { arrange } from '@cast-to-last/pipeline/making/arrange';
import { asWritten } from '@cast-to-last/pipeline/making/as-written';
import { blankFor } from '@cast-to-last/pipeline/making/blank';
import { checkWritten } from '@cast-to-last/pipeline/making/check-written';
import { layPiece } from '@cast-to-last/pipeline/making/lay-piece';
import { millingOf } from '@cast-to-last/pipeline/making/making-report';
import { overhangs } from '@cast-to-last/pipeline/making/overhang';
import { distanceToBore, widened } from '@cast-to-last/pipeline/making/piece';
import { thinPlaces } from '@cast-to-last/pipeline/making/thin-places';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import { box, flipped, icosphere, merged } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const moved = (positions: Float64Array, by: readonly number[]): Float64Array => positions.map((c, i) => c + by[i % 3]);

describe('overhang', () => {
  it.each([20, 45, 70])('of a sphere is that of the cap steeper than %d degrees', (limit) => {
    const [{ area, resting }] = overhangs(icosphere(20, 6), [[0, 0, -1]], limit);
    expect((area + resting) / (2 * Math.PI * 400 * (1 - Math.sin((limit * Math.PI) / 180)))).toBeCloseTo(1, 1);
  });
  it('of a box on the bed is none: what rests needs no support; on another box it is what sticks out', () => {
    const low = box(20, 20, 10, 2);
    const table = { positions: moved(box(40, 20, 6, 2).positions, [0, 0, 30]), triangles: low.triangles };
    expect(overhangs(low, [[0, 0, -1]], 45)).toEqual([{ area: 0, resting: 400 }]);
    expect(overhangs(merged(low, table), [[0, 0, -1]], 45)[0]).toEqual({ area: 800, resting: 400 });
  });
});

describe('laying a piece', () => {
  const rules = { ...DEFAULT_RULES.making.print, bedMm: [120, 90, 200] as [number, number, number], gapMm: 5 };
  it('stands a cone-like body on its broad end, in the bed, its corner at the origin', () => {
    // A mushroom: a stem under a cap; on its cap nothing hangs over.
    const body = turnedBody([0, 0, 0], [0, 0, 1], [[0, 8], [40, 8], [40.001, 30], [50, 30]], 48);
    const lay = layPiece(body, body.positions, { name: 'x', cuts: [] }, rules);
    expect(lay.down).toEqual([0, 0, 1]);
    expect(lay.area).toBe(0);
    expect(lay.fits).toBe(true);
    const b = bounds(transformPositions(lay.transform, body.positions));
    expect([...b.subarray(0, 3)].every((c) => Math.abs(c) < 1e-9)).toBe(true);
    lay.size.forEach((s, k) => expect(b[3 + k]).toBeCloseTo(s, 9));
    expect(lay.tried.length).toBe(26);
    expect(Math.min(...lay.tried.filter((t) => t.fits).map((t) => t.area))).toBe(0);
  });
  it('takes an orientation that fits before one with less overhang', () => {
    const long = box(190, 30, 20, 2);
    const lay = layPiece(long, long.positions, { name: 'x', cuts: [] }, rules);
    expect(lay.fits).toBe(true);
    expect(lay.size[2]).toBeCloseTo(190, 6);
    expect(lay.size[0] <= 110 && lay.size[1] <= 80).toBe(true);
  });
});

describe('boxes on plates', () => {
  it.each([11, 12, 13, 14])('lie apart, inside, each once (seed %d)', (seed) => {
    const random = rng(seed);
    const bed = [200, 150] as const;
    const gap = 4;
    const sizes = Array.from({ length: 12 }, () => [random.range(10, bed[0] - 2 * gap), random.range(10, bed[1] - 2 * gap)] as const);
    const spots = arrange(sizes, bed, gap);
    spots.forEach((a, i) => {
      expect(a.x).toBeGreaterThanOrEqual(gap);
      expect(a.y).toBeGreaterThanOrEqual(gap);
      expect(a.x + sizes[i][0]).toBeLessThanOrEqual(bed[0] - gap + 1e-9);
      expect(a.y + sizes[i][1]).toBeLessThanOrEqual(bed[1] - gap + 1e-9);
      for (let j = 0; j < i; j++) {
        const b = spots[j];
        if (a.plate !== b.plate) continue;
        const apart = Math.max(a.x - b.x - sizes[j][0], b.x - a.x - sizes[i][0], a.y - b.y - sizes[j][1], b.y - a.y - sizes[i][1]);
        expect(apart).toBeGreaterThanOrEqual(gap - 1e-9);
      }
    });
    const plates = new Set(spots.map((s) => s.plate));
    expect([...plates].sort((a, b) => a - b)).toEqual(Array.from({ length: plates.size }, (_, n) => n));
  });
});

describe('thin places', () => {
  it('of a shell are all of it where the limit is above its wall, and none below', () => {
    const shell = merged(icosphere(30, 5), flipped(icosphere(28, 5)));
    const under = thinPlaces(shell, 1.8);
    expect(under.least).toBeCloseTo(2, 1);
    expect([under.area, under.places.length]).toEqual([0, 0]);
    expect(thinPlaces(shell, 2.5).area / (4 * Math.PI * (900 + 784))).toBeCloseTo(1, 1);
  });
  it('is the thin half of a stepped plate, and no edge', () => {
    const thick = box(40, 40, 8, 16);
    const thin = { positions: moved(box(20, 40, 1, 16).positions, [40, 0, 0]), triangles: box(20, 40, 1, 16).triangles };
    const found = thinPlaces(merged(thick, thin), 1.5);
    expect(found.least).toBeCloseTo(1, 6);
    expect(found.area / (2 * 20 * 40)).toBeCloseTo(1, 1);
    for (const place of found.places) expect(place.at[0]).toBeGreaterThan(29.9);
  });
});

describe('the blank', () => {
  const rules = { ...DEFAULT_RULES.making.milling, stockMm: 6, holdStartMm: 30, holdEndMm: 10, roundMm: 5 };
  it.each([0, 12, -31.5])('of a bar turned by %d degrees about its length turns it back, with the stock all round and what is held at the ends', (deg) => {
    const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
    const bar = box(250, 90, 60, 2).positions;
    const positions = bar.map((_, i) => {
      const [x, y, z] = bar.subarray(i - (i % 3), i - (i % 3) + 3);
      return [x + 125, c * y - s * z, s * y + c * z][i % 3];
    });
    const blank = blankFor(positions, rules);
    expect(blank.turnedDeg).toBeCloseTo(-deg, 9);
    [250, 90, 60].forEach((size, k) => expect(blank.lastSize[k]).toBeCloseTo(size, 6));
    // 250 + 12 + 40 = 302, 102 and 72, each up to the next 5.
    expect(blank.size).toEqual([305, 105, 75]);
    const b = bounds(transformPositions(blank.transform, positions));
    const room = [b[0] - blank.hold.start, 305 - blank.hold.end - b[3], b[1], 105 - b[4], b[2], 75 - b[5]];
    room.forEach((r, i) => {
      expect(r).toBeGreaterThanOrEqual(6 - 1e-9);
      expect(r).toBeCloseTo(blank.stock[i], 9);
    });
    expect([blank.hold.start, blank.hold.end]).toEqual([31.5, 11.5]);
    expect(blank.roundDiameter).toBe(Math.ceil((Math.hypot(90, 60) + 12) / 5) * 5);
  });
  it('stands a tall body up where that needs less', () => {
    const tall = moved(box(60, 70, 200, 2).positions, [0, 0, 100]);
    expect(blankFor(tall, { ...rules, along: 'least' }).along).toBe('height');
    expect(blankFor(tall, { ...rules, along: 'length' }).size[0]).toBe(115);
    expect(blankFor(tall, { ...rules, along: 'height' }).size).toEqual([255, 85, 75]);
  });
  it('is reported with the stock on each side to four decimals', () => {
    const blank = blankFor(box(200.12344, 70.24688, 60.4937, 2).positions, { ...rules, along: 'length' });
    const { sides } = millingOf(blank, rules).stock;
    sides.forEach((side, i) => expect(side).toBe(Number(blank.stock[i].toFixed(4))));
    expect(sides.slice(2)).toEqual([7.3766, 7.3766, 7.2532, 7.2532]);
  });
});

describe('bores', () => {
  it('have the distance of a cylinder, and grow all round', () => {
    const bore = { origin: [0, 0, 0] as Point, axis: [0, 0, 1] as Point, profile: [[0, 3], [10, 3]] as const };
    expect(distanceToBore(bore, [5, 0, 5])).toBeCloseTo(2, 12);
    expect(distanceToBore(bore, [0, 0, 14])).toBeCloseTo(4, 12);
    expect(distanceToBore(bore, [6, 0, 14])).toBeCloseTo(5, 12);
    expect(distanceToBore(bore, [1, 0, 5])).toBeCloseTo(-2, 12);
    expect(widened(bore, 2).profile).toEqual([[-2, 5], [12, 5]]);
  });
});

describe('what is written', () => {
  it('is read back closed, though two of its parts touch in an edge', () => {
    // Two boxes that share one upright edge, as a boolean operation may leave them: a reader cannot tell whose the triangles are.
    const one = box(10, 10, 10, 1);
    const touching = merged(one, { positions: moved(one.positions, [10, 10, 0]), triangles: one.triangles });
    expect(checkWritten(writeStl(touching)).closed).toBe(false);
    const written = checkWritten(writeStl(asWritten(touching)));
    expect(written.closed).toBe(true);
    expect(written.pieces).toBe(2);
    expect(written.volume / 2000).toBeCloseTo(1, 3);
  });
  it('is read back closed, though an edge stands twice between the same two corners', () => {
    const one = box(10, 10, 10, 1);
    const { mesh: sharing } = weld(merged(one, { positions: moved(one.positions, [10, 10, 0]), triangles: one.triangles }));
    expect(sharing.positions.length).toBe(2 * one.positions.length - 6);
    expect(twins(sharing).filter((h) => h < 0)).toHaveLength(4);
    const written = checkWritten(writeStl(asWritten(sharing)));
    expect(written.closed).toBe(true);
    expect(written.volume / 2000).toBeCloseTo(1, 3);
  });
  it('loses corners that come to lie on each other, and nothing else', () => {
    const ball = icosphere(20, 3);
    // Far from the origin 32-bit coordinates are 0.008 mm apart, and a corner 0.001 mm beside another one falls on it.
    const positions = moved(ball.positions, [80_000, 0, 0]);
    const [a, b] = [ball.triangles[0], ball.triangles[1]];
    for (let k = 0; k < 3; k++) positions[3 * b + k] = positions[3 * a + k] + (k === 1 ? 1e-9 : 0);
    const written = asWritten({ positions, triangles: ball.triangles });
    expect(written.positions.length).toBe(positions.length - 3);
    expect(written.triangles.length).toBe(ball.triangles.length - 6);
    expect(twins(written).every((h) => h >= 0)).toBe(true);
    expect(signedVolume({ positions: moved(written.positions, [-80_000, 0, 0]), triangles: written.triangles }) / signedVolume(ball)).toBeCloseTo(1, 2);
  });
});

describe('the rules of making', () => {
  it('are part of the rule set, whose defaults print a solid last in one piece', () => {
    expect(parseRules({}).making).toEqual(makingRules.parse({}));
    expect([DEFAULT_RULES.making.print.body, DEFAULT_RULES.making.print.split.by]).toEqual(['solid', 'none']);
  });
  it.each([
    [{ print: { wallMm: 0.5 } }], [{ print: { bedMm: [100, 100] } }], [{ print: { drain: { count: 1.5 } } }], [{ print: { split: { by: 'saw' } } }], [{ milling: { stockMm: -1 } }], [{ mill: {} }],
  ])('refuse %j', (bad) => {
    expect(makingRules.safeParse(bad).success).toBe(false);
    expect(() => parseRules({ making: bad })).toThrow(expect.objectContaining({ code: 'bad-rules' }));
  });
});
