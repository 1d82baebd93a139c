import { describe, expect, it } from 'vitest';
import { cut, inPlane } from '../reference/cut.js';
import { smallestTilted } from '../reference/measures.js';
import { tapeLength } from '../reference/tape.js';
import { randomFrom } from '../random.js';
import { makeShell, type Shell } from './make-shell.js';
import { Opening, type Shift } from './opening.js';
import { HALF } from './sections.js';
import { shellBodies } from './shell-bodies.js';
import type { ShellOptions } from './shell-options.js';

const clean: ShellOptions = { delivered: 'positive', triangles: 20_000, denseTriangles: 20_000, noise: 0, weave: 0, bare: true, seam: false, holes: 0, posed: false, side: 'right' };

describe('opening a shell along its cut', () => {
  const { sections } = shellBodies(randomFrom(41, 'test'), {}, { nominal: 4, swing: 0, triangles: 15_000, needsOuter: false });

  it.each([12, 3, -6])('by %f mm: bends every half section hardly stretching it, the edges that far apart', (gap) => {
    const opening = new Opening(sections, () => gap, (turn) => 0.3 + turn);
    const shift: Shift = { y: 0, off: 0, angle: 0 };
    for (let i = 0; i < sections.count; i += 9) {
      const along = sections.first + 3 * i + 1e-9;
      const ends: number[][] = [];
      for (const flap of [1, -1] as const) {
        const o = 2 * (2 * i + (flap === 1 ? 0 : 1)) * (HALF + 1);
        const moved = Array.from({ length: HALF + 1 }, (_, k) => {
          opening.at(along, (flap * k) / HALF, flap, shift);
          return [sections.points[o + 2 * k] + shift.y, sections.points[o + 2 * k + 1] + shift.off];
        });
        let [was, is] = [0, 0];
        for (let k = 1; k <= HALF; k++) {
          was += Math.hypot(sections.points[o + 2 * k] - sections.points[o + 2 * k - 2], sections.points[o + 2 * k + 1] - sections.points[o + 2 * k - 1]);
          is += Math.hypot(moved[k][0] - moved[k - 1][0], moved[k][1] - moved[k - 1][1]);
        }
        // Bringing the edges level stretches a little, most in the forefoot, where real gaps are small.
        expect(Math.abs(is - was)).toBeLessThan(0.08 * Math.abs(gap));
        expect(Math.hypot(moved[HALF][0] - sections.points[o + 2 * HALF], moved[HALF][1] - sections.points[o + 2 * HALF + 1])).toBeLessThan(1e-9);
        ends.push(moved[0]);
      }
      expect(Math.abs(Math.hypot(ends[0][0] - ends[1][0], ends[0][1] - ends[1][1]) - Math.abs(gap))).toBeLessThan(0.01);
      expect(Math.sign(ends[0][0] - ends[1][0])).toBe(Math.sign(gap));
    }
  });
});

/** The girth's tapes on a scan that stands in the frame, at the sound foot's landmarks. */
function tapes({ scan, truth }: Shell): { ball: number; instep: number } {
  const { medialBall: m, lateralBall: l, instep } = truth.landmarks;
  const width = Math.hypot(l[0] - m[0], l[1] - m[1]);
  const u: [number, number, number] = [(l[0] - m[0]) / width, (l[1] - m[1]) / width, 0];
  const ball = cut(scan, [-u[1], u[0], 0], -u[1] * m[0] + u[0] * m[1]);
  const { segments } = cut(scan, [1, 0, 0], (instep as readonly number[])[0]);
  let top: [number, number, number] = [0, 0, -Infinity];
  for (let i = 0; i < segments.length; i += 3) if (segments[i + 2] > top[2]) top = [segments[i], segments[i + 1], segments[i + 2]];
  return { ball: tapeLength(inPlane(ball.segments, u, [0, 0, 1])), instep: smallestTilted(scan, top) as number };
}

describe('truth of the cut', () => {
  it.each([[51, 10], [53, 14]])('gaping, seed %i by %i mm: the tapes grow on the scan as recorded, lips and bulge aside', (seed, cutSize) => {
    const sound = makeShell(seed, clean);
    const gaping = makeShell(seed, { ...clean, cut: 'gaping', cutSize });
    const [was, is] = [tapes(sound), tapes(gaping)];
    const { girthChange, gap } = gaping.truth.cut;
    // A lip of 1.2 mm and a bulge of 1.5 mm lift a tape by a millimetre or so.
    expect(Math.abs(is.instep - was.instep - girthChange['instep-girth'])).toBeLessThan(1.3);
    expect(Math.abs(is.ball - was.ball - girthChange['ball-girth'])).toBeLessThan(1.3);
    expect(Math.max(...Object.values(gap))).toBeGreaterThan(0.2 * cutSize);
    expect(Math.max(...Object.values(gap))).toBeLessThan(cutSize + 1e-6);
    expect(sound.truth.cut.girthChange).toEqual({ 'ball-girth': 0, 'waist-girth': 0, 'instep-girth': 0 });
  });

  it('overlapping (seed 54): girths shrink, and one edge lies 0.6 to 1.0 of the wall over the other', () => {
    const { truth } = makeShell(54, { ...clean, cut: 'overlapping', cutSize: 12, wall: 6 });
    expect(truth.cut.girthChange['instep-girth']).toBeLessThan(-1);
    expect(truth.cut.step).toBeGreaterThan(0.55 * 6);
    expect(truth.cut.step).toBeLessThan(1.05 * 6);
  });

  it.each([[55, 'step', 5], [56, 'overlapping', 10]] as const)('seed %i, %s: the recorded step stands on the surface', (seed, kind, cutSize) => {
    const { scan, truth } = makeShell(seed, { ...clean, cut: kind, cutSize, wall: 5, triangles: 40_000 });
    const p = scan.positions;
    // Heights over the sound skin of the vertices within 3 mm of the cut: the greatest spread anywhere along it.
    let most = 0;
    for (let i = 0; i < truth.cut.path.length; i += 3) {
      const at = truth.cut.path.subarray(i, i + 3);
      let [low, high] = [Infinity, -Infinity];
      for (let v = 0; v < p.length; v += 3) {
        if (Math.abs(p[v] - at[0]) > 9 || Math.abs(p[v + 1] - at[1]) > 9 || Math.abs(p[v + 2] - at[2]) > 9) continue;
        const h = truth.skin.distance(p[v], p[v + 1], p[v + 2]);
        const q = truth.skin.foot.point;
        if (Math.hypot(q[0] - at[0], q[1] - at[1], q[2] - at[2]) > 3) continue;
        [low, high] = [Math.min(low, h), Math.max(high, h)];
      }
      if (high > low) most = Math.max(most, high - low);
    }
    // Worn edges add or take off up to 1.2 mm, the bending of an overlap some tenths.
    expect(Math.abs(most - truth.cut.step)).toBeLessThan(1.4);
    expect(truth.cut.step).toBeGreaterThan(2.5);
  });

  it('a warp bends but opens nothing (seed 57)', () => {
    const { cut: warp } = makeShell(57, { ...clean, cut: 'warp', cutSize: 8 }).truth;
    expect(warp.widest).toBe(0);
    expect(warp.step).toBe(0);
    expect(warp.gap).toEqual({ 'ball-girth': 0, 'waist-girth': 0, 'instep-girth': 0 });
  });
});
