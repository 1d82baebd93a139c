import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { handles, opposites } from './surface/halfedges.js';
import { makePhantom, type Phantom } from './make-phantom.js';
import type { Family, PhantomOptions } from './phantom-options.js';

const plain: PhantomOptions = { denseTriangles: 16_000, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, noise: 0, weave: 0, top: 'cut' };
const hash = (p: Phantom): string => createHash('sha256').update(p.scan.positions).update(p.scan.triangles).update(JSON.stringify(p.truth.measures)).digest('hex');

/** Distance of every scan vertex from its clean place along the clean normal. */
function heights({ scan, truth }: Phantom): Float64Array {
  const inFoot = transformPositions(truth.transform, scan.positions);
  return truth.markHeights.map((_, v) => [0, 1, 2].reduce((sum, k) => sum + (inFoot[3 * v + k] - truth.cleanPositions[3 * v + k]) * truth.cleanNormals[3 * v + k], 0));
}

describe('makePhantom', () => {
  it('gives the same cast for the same seed and another for another', () => {
    const options: PhantomOptions = { triangles: 6000, denseTriangles: 6000 };
    expect(hash(makePhantom(4, options))).toBe(hash(makePhantom(4, options)));
    expect(hash(makePhantom(4, options))).not.toBe(hash(makePhantom(5, options)));
  });

  it.each<[Family, number]>([['bones', 11], ['bones', 12], ['sections', 13], ['sections', 14], ['blunt', 15], ['blunt', 16]])('%s, seed %i: one sheet without handles, every clean vertex on the surface, about as many triangles as asked for', (family, seed) => {
    const { truth, scan } = makePhantom(seed, { ...plain, family, triangles: 16_000 });
    expect(handles(truth.clean)).toBe(0);
    expect(opposites(scan.triangles, scan.positions.length / 3).filter((h) => h < 0).length).toBeGreaterThan(20);
    for (let i = 0; i < truth.cleanPositions.length; i += 3) {
      expect(Math.abs(truth.cleanDistance(truth.cleanPositions[i], truth.cleanPositions[i + 1], truth.cleanPositions[i + 2]))).toBeLessThan(1e-5);
    }
    expect(scan.triangles.length / 3).toBeGreaterThan(13_000);
    expect(scan.triangles.length / 3).toBeLessThan(19_000);
  });

  it('puts the frame where it says: heel at 0, sole on 0, the ball across the axis, rigid (seed 17)', () => {
    const { truth, scan } = makePhantom(17, { ...plain, denseTriangles: 30_000, triangles: 12_000, side: 'right' });
    const box = bounds(transformPositions(truth.transform, scan.positions));
    // The scan is coarser than the dense clean surface that the frame was found on.
    expect(box[0]).toBeLessThan(0.3);
    expect(box[0]).toBeGreaterThan(-0.01);
    expect(Math.abs(box[2])).toBeLessThan(0.3);
    expect(box[3]).toBeCloseTo(truth.landmarks.footLength, 0);
    const { medialBall, lateralBall } = truth.landmarks;
    expect(medialBall[1] + lateralBall[1]).toBeCloseTo(0, 4);
    expect(medialBall[1]).toBeGreaterThan(0);
    const m = truth.transform;
    for (const [a, b] of [[0, 0], [0, 4], [0, 8], [4, 4], [4, 8], [8, 8]]) {
      expect(m[a] * m[b] + m[a + 1] * m[b + 1] + m[a + 2] * m[b + 2]).toBeCloseTo(a === b ? 1 : 0, 12);
    }
  });

  it('makes a left foot as the exact mirror of the right one (seed 18)', () => {
    const right = makePhantom(18, { triangles: 8000, denseTriangles: 8000, side: 'right', posed: false });
    const left = makePhantom(18, { triangles: 8000, denseTriangles: 8000, side: 'left', posed: false });
    expect(left.truth.measures).toEqual(right.truth.measures);
    expect(left.scan.positions.every((c, i) => c === (i % 3 === 1 ? -right.scan.positions[i] : right.scan.positions[i]))).toBe(true);
    expect(left.truth.landmarks.medialBall[1]).toBeLessThan(0);
    const i = left.truth.marks.findIndex((m) => m.kind === 'dent');
    expect(left.truth.marks[i].centre[1]).toBe(-right.truth.marks[i].centre[1]);
    const at = left.truth.marks[i].centre;
    expect(Math.abs(left.truth.cleanDistance(at[0], at[1], at[2]))).toBeLessThan(1e-5);
  });

  it('plants marks as recorded: depth, width, sign, no overlap (seed 19)', () => {
    const phantom = makePhantom(19, { ...plain, dents: 9, bumps: 4, markDepth: [0.8, 4], triangles: 80_000 });
    const { truth } = phantom;
    const h = heights(phantom);
    expect(truth.marks.length).toBeGreaterThanOrEqual(11);
    truth.marks.forEach((mark, m) => {
      // No vertex need stand right at the centre: edges are about 1 mm long.
      const peak = mark.vertices.reduce((p, v) => (Math.abs(h[v]) > Math.abs(p) ? h[v] : p), 0);
      expect(Math.abs(peak - mark.depth)).toBeLessThan(0.06 * Math.abs(mark.depth) + 0.01);
      expect(Math.sign(mark.depth)).toBe(mark.kind === 'dent' ? -1 : 1);
      const reach = Math.max(...[...mark.vertices].filter((v) => Math.sign(h[v]) === Math.sign(mark.depth)).map((v) => Math.hypot(...[0, 1, 2].map((k) => truth.cleanPositions[3 * v + k] - mark.centre[k]))));
      expect(reach).toBeGreaterThan(mark.length / 2 - 2);
      expect(reach).toBeLessThan(mark.length / 2 + 2);
      for (const v of mark.vertices) expect(truth.markOf[v]).toBe(m);
    });
    h.forEach((height, v) => expect(Math.abs(height - truth.markHeights[v])).toBeLessThan(1e-9));
    expect(h.filter((height) => Math.abs(height) > 1e-9).length).toBeGreaterThan(500);
  });

  it('records ridges and the seam along their paths (seed 21)', () => {
    const phantom = makePhantom(21, { ...plain, ridges: 4, seam: true, triangles: 60_000 });
    const h = heights(phantom);
    const { marks, landmarks } = phantom.truth;
    expect(marks.map((m) => m.kind).sort()).toEqual(['ridge', 'ridge', 'ridge', 'ridge', 'seam']);
    for (const mark of marks) {
      const path = mark.path as Float64Array;
      expect(path.length / 3 - 1).toBeCloseTo(mark.length, 6);
      for (let i = 0; i < path.length; i += 3) expect(Math.abs(phantom.truth.cleanDistance(path[i], path[i + 1], path[i + 2]))).toBeLessThan(1e-5);
      const peak = mark.vertices.reduce((p, v) => (Math.abs(h[v]) > Math.abs(p) ? h[v] : p), 0);
      expect(Math.abs(peak) / Math.abs(mark.depth)).toBeGreaterThan(0.8);
      expect(Math.abs(peak) / Math.abs(mark.depth)).toBeLessThan(1.02);
    }
    const seam = marks.find((m) => m.kind === 'seam')?.path as Float64Array;
    const crook = landmarks.crook as readonly [number, number, number];
    expect(seam[0]).toBeGreaterThan(0.7 * landmarks.footLength);
    expect(Math.hypot(seam[seam.length - 3] - crook[0], seam[seam.length - 2] - crook[1], seam[seam.length - 1] - crook[2])).toBeLessThan(12);
  });

  it('adds texture and noise of the size asked for (seed 22)', () => {
    const woven = makePhantom(22, { ...plain, weave: 0.08, triangles: 20_000 });
    const h = heights(woven);
    const { cleanPositions: p, texture } = woven.truth;
    h.forEach((height, v) => expect(Math.abs(height - texture(p[3 * v], p[3 * v + 1], p[3 * v + 2]))).toBeLessThan(1e-9));
    expect(Math.max(...h.map(Math.abs))).toBeLessThan(0.0801);
    const noisy = heights(makePhantom(22, { ...plain, noise: 0.05, triangles: 20_000 }));
    const sd = Math.sqrt(noisy.reduce((sum, e) => sum + e * e, 0) / noisy.length);
    expect(sd).toBeGreaterThan(0.04);
    expect(sd).toBeLessThan(0.065);
  });

  it('keeps dents and bumps to the regions asked for (seed 23)', () => {
    const { marks } = makePhantom(23, { ...plain, dents: 6, bumps: 3, regions: ['heel', 'instep'], markWidth: [8, 14], triangles: 30_000 }).truth;
    expect(marks.length).toBeGreaterThan(4);
    for (const mark of marks) expect(['heel', 'instep']).toContain(mark.region);
  });

  it('adds holes, a missing sole and debris, and marks debris as such (seed 24)', () => {
    const whole = makePhantom(24, { ...plain, triangles: 12_000 });
    const broken = makePhantom(24, { ...plain, holes: 4, missingSole: true, debris: true, triangles: 12_000 });
    const stray = [...broken.truth.cleanPositions].filter(Number.isNaN).length / 3;
    expect(stray).toBeGreaterThan(5);
    expect(broken.scan.positions.length / 3 - stray).toBeLessThan(whole.scan.positions.length / 3 - 100);
    expect(broken.truth.measures).toEqual(whole.truth.measures);
  });

  it('closes a capped top (seed 25)', () => {
    const { scan } = makePhantom(25, { ...plain, top: 'capped', triangles: 12_000 });
    expect(opposites(scan.triangles, scan.positions.length / 3).every((h) => h >= 0)).toBe(true);
  });
});
