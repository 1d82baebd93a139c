import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { handles, opposites } from '../surface/halfedges.js';
import { makeShell, type Shell } from './make-shell.js';
import type { ShellOptions } from './shell-options.js';
import { meshArea } from './skin-quantities.js';

const small: ShellOptions = { triangles: 8000, denseTriangles: 8000 };
const clean: ShellOptions = { ...small, noise: 0, weave: 0, bandageEdge: 0, bare: true, seam: false, holes: 0, posed: false, side: 'right' };
const hash = ({ scan, truth }: Shell): string => createHash('sha256').update(scan.positions).update(scan.triangles).update(JSON.stringify([truth.measures, truth.cut.gap, truth.weak])).digest('hex');
const openEdges = ({ scan }: Shell): number => opposites(scan.triangles, scan.positions.length / 3).filter((h) => h < 0).length;

/** mm³; negative where the triangles face in */
const volume = ({ scan: { positions: p, triangles } }: Shell): number => {
  let sum = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => p.subarray(3 * triangles[t + k], 3 * triangles[t + k] + 3));
    sum += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6;
  }
  return sum;
};

describe('makeShell', () => {
  it('gives the same scan for the same seed and another for another', () => {
    const options: ShellOptions = { ...small, delivered: 'two-sided', cut: 'gaping', thin: 1, broken: 1 };
    expect(hash(makeShell(4, options))).toBe(hash(makeShell(4, options)));
    expect(hash(makeShell(4, options))).not.toBe(hash(makeShell(5, options)));
  });

  it.each([[6, 0], [7, 2]])('two-sided, seed %i with %i holes through the wall: one closed manifold, a tunnel for each hole, volume of the wall', (seed, broken) => {
    const shell = makeShell(seed, { ...clean, delivered: 'two-sided', joined: true, wall: 4, swing: 0, thin: 0, broken });
    expect(openEdges(shell)).toBe(0);
    expect(handles(shell.scan)).toBe(broken);
    expect(shell.truth.weak.filter((w) => w.kind === 'broken').length).toBe(broken);
    // The wall times the area half-way between its two sides, which is about the mean of theirs.
    const halfWay = 4 * 0.5 * meshArea(shell.scan);
    expect(volume(shell) / halfWay).toBeGreaterThan(0.95);
    expect(volume(shell) / halfWay).toBeLessThan(1.05);
  });

  it.each(['gaping', 'overlapping'] as const)('two-sided and %s: still closed, manifold and without a tunnel (seed 8)', (cut) => {
    const shell = makeShell(8, { ...clean, delivered: 'two-sided', joined: true, cut, wall: 4 });
    expect(openEdges(shell)).toBe(0);
    expect(handles(shell.scan)).toBe(0);
  });

  it('two pieces: two sheets, each with one opening, the inner one facing into the hollow (seed 9)', () => {
    const shell = makeShell(9, { ...clean, delivered: 'two-sided', joined: false });
    const { scan, truth } = shell;
    const edge = openEdges(shell);
    expect(edge).toBeGreaterThan(100);
    let [outside, inside] = [0, 0];
    for (let v = 0; v < scan.positions.length; v += 3) {
      const [x, y, z] = scan.positions.subarray(v, v + 3);
      if (Math.abs(truth.skin.field(x, y, z)) < 1e-5) inside++;
      else if (truth.skin.distance(x, y, z) > 0.75 * truth.nominalWall) outside++;
    }
    expect(inside + outside).toBe(scan.positions.length / 3);
    expect(Math.min(inside, outside)).toBeGreaterThan(1500);
  });

  it('inside: on the skin, facing in or out, mirrored as the exact mirror image (seed 10)', () => {
    const facingIn = makeShell(10, { ...clean, delivered: 'inside', top: 'open', facing: 'in' });
    const facingOut = makeShell(10, { ...clean, delivered: 'inside', top: 'open', facing: 'out' });
    const mirrored = makeShell(10, { ...clean, delivered: 'inside', top: 'open', facing: 'in', mirrored: true });
    expect(volume(facingIn)).toBeLessThan(0);
    expect(volume(facingOut)).toBeCloseTo(-volume(facingIn), 3);
    expect(Math.sign(volume(mirrored))).toBe(Math.sign(volume(facingIn)));
    expect(mirrored.scan.positions.every((c, i) => c === (i % 3 === 1 ? -facingIn.scan.positions[i] : facingIn.scan.positions[i]))).toBe(true);
    for (let i = 0; i < facingIn.scan.positions.length; i += 30) {
      const [x, y, z] = facingIn.scan.positions.subarray(i, i + 3);
      expect(Math.abs(facingIn.truth.skin.field(x, y, z))).toBeLessThan(1e-5);
    }
  });

  it('outside: open, with its rim, or capped (seed 11)', () => {
    const of = (top: 'open' | 'rim' | 'capped'): Shell => makeShell(11, { ...clean, delivered: 'outside', top });
    const [open, rim, capped] = [of('open'), of('rim'), of('capped')];
    expect(openEdges(open)).toBeGreaterThan(50);
    expect(openEdges(capped)).toBe(0);
    expect(openEdges(rim)).toBeGreaterThan(50);
    expect(rim.scan.triangles.length).toBeGreaterThan(open.scan.triangles.length);
    // The rim ends on the skin.
    const least = (s: Shell): number => {
      let d = Infinity;
      for (let i = 0; i < s.scan.positions.length; i += 3) d = Math.min(d, s.truth.skin.distance(s.scan.positions[i], s.scan.positions[i + 1], s.scan.positions[i + 2]));
      return d;
    };
    expect(least(rim)).toBeLessThan(0.01);
    expect(least(open)).toBeGreaterThan(0.8 * open.truth.nominalWall);
  });

  it('a left foot is the mirror of the right one, and the pose is undone by the transform (seed 12)', () => {
    const right = makeShell(12, { ...clean, delivered: 'outside', top: 'open' });
    const left = makeShell(12, { ...clean, delivered: 'outside', top: 'open', side: 'left', posed: true });
    const back = transformPositions(left.truth.transform, left.scan.positions);
    for (let i = 0; i < back.length; i++) expect(Math.abs(back[i] - (i % 3 === 1 ? -1 : 1) * right.scan.positions[i])).toBeLessThan(1e-9);
  });

  it('thin areas are as thin and as large as recorded (seed 13)', () => {
    const { truth } = makeShell(13, { ...clean, delivered: 'two-sided', wall: 5, swing: 0, thin: 2 });
    expect(truth.weak.map((w) => w.kind)).toEqual(['thin', 'thin']);
    for (const { centre, least, area } of truth.weak) {
      expect(truth.wall(centre[0], centre[1], centre[2])).toBeCloseTo(least, 9);
      expect(least).toBeLessThan(2.01);
      // Between the discs of half and whole rim, 12 to 24 mm.
      expect(area).toBeGreaterThan(0.8 * Math.PI * 6 ** 2);
      expect(area).toBeLessThan(1.2 * Math.PI * 24 ** 2);
    }
    expect(truth.meanWall).toBeLessThan(5);
    expect(truth.meanWall).toBeGreaterThan(4.6);
  });

  it('noise, texture and marks are all that departs from the wall on the outside (seed 14)', () => {
    const { scan, truth } = makeShell(14, { ...small, delivered: 'outside', top: 'open', posed: false, side: 'right', holes: 0, noise: 0.05, weave: 0.08, bandageEdge: 0.2, swing: 0 });
    let [count, squares] = [0, 0];
    for (let i = 0; i < scan.positions.length; i += 3) {
      const d = truth.skin.distance(scan.positions[i], scan.positions[i + 1], scan.positions[i + 2]);
      const q = truth.skin.foot.point;
      if (truth.marked(q[0], q[1], q[2]) > 0.01 || d > truth.nominalWall + 1) continue;
      squares += (d - truth.nominalWall) ** 2;
      count++;
    }
    const rms = Math.sqrt(squares / count);
    expect(rms).toBeGreaterThan(0.06);
    expect(rms).toBeLessThan(0.14);
  });
});
