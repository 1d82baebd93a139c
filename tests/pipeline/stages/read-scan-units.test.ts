import { describe, expect, it } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { inferUnit, likelyUnits, MILLIMETRES } from '@cast-to-last/pipeline/scan/infer-unit';
import { readScan } from '@cast-to-last/pipeline/stages/read-scan';
import { cutTo, noisy, posed, scaled } from '../../support/disturb.ts';
import { footShape } from '../../support/foot-shape.ts';
import { binaryStl, obj } from '../../support/mesh-files.ts';
import { box, icosphere, merged } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const refusal = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof CastError) return `${error.code}: ${error.message}`;
    throw error;
  }
  return 'none';
};

describe('unit', () => {
  it.each(['mm', 'cm', 'm', 'in'] as const)('%s is inferred for feet of adults in any pose (seed 301)', (unit) => {
    const random = rng(301);
    // 219 to 302 mm: 1st percentile of women to 99th of men (ANSUR II, 2012).
    for (const length of [219, 246, 271, 302]) {
      const foot = posed(footShape({ length }), 500, random);
      const scan = readScan(obj(scaled(foot, 1 / MILLIMETRES[unit])));
      expect([scan.unit, scan.unitHow]).toEqual([unit, 'inferred']);
      scan.mesh.positions.forEach((c, i) => expect(Math.abs(c - foot.positions[i])).toBeLessThan(1e-9));
    }
  });
  it.each([311, 312, 313, 314])('crumbs beside the foot do not change the unit, nor make it a ball (seed %i)', (seed) => {
    const random = rng(seed);
    for (const unit of ['mm', 'cm', 'm', 'in'] as const) {
      const crumbs = Array.from({ length: 1 + random.below(6) }, () => {
        const centre = [0, 1, 2].map(() => random.range(-600, 600));
        const crumb = icosphere(random.range(1, 15), 1);
        return { ...crumb, positions: crumb.positions.map((c, i) => c + centre[i % 3]) };
      });
      const scan = posed(merged(footShape(), ...crumbs), 200, random);
      expect(readScan(binaryStl(scaled(scan, 1 / MILLIMETRES[unit]))).unit).toBe(unit);
    }
  });
  it('every size has at most the units that make it a foot, and says them', () => {
    expect(likelyUnits(265)).toEqual(['mm']);
    expect(likelyUnits(0.265)).toEqual(['m']);
    expect(likelyUnits(26.5)).toEqual(['cm']);
    expect(likelyUnits(10.4)).toEqual(['in']);
    expect(likelyUnits(18)).toEqual(['cm', 'in']);
    for (const none of [0.01, 1, 3, 60, 100, 600, 1e6]) expect(likelyUnits(none)).toEqual([]);
    expect(inferUnit(0.276).said).toContain('metres were taken, because its longest extent of 0.276 (276 mm)');
    expect(refusal(() => inferUnit(18))).toMatch(/^unit-ambiguous: .*180 mm in centimetres or 457 mm in inches.*--unit cm or --unit in/);
    expect(refusal(() => inferUnit(3))).toMatch(/^size-not-foot: /);
  });
  it('a small child\'s foot is taken in the unit that is given, and in millimetres or metres without', () => {
    for (const length of [115, 130, 160]) {
      const foot = footShape({ length });
      for (const unit of ['mm', 'cm', 'm', 'in'] as const) {
        const scan = readScan(obj(scaled(foot, 1 / MILLIMETRES[unit])), { unit });
        expect(scan.warnings).toEqual([]);
        expect(scan.mesh.positions.reduce((m, c) => Math.max(m, c), 0)).toBeCloseTo(length, 0);
      }
      for (const unit of ['mm', 'm'] as const) expect(readScan(obj(scaled(foot, 1 / MILLIMETRES[unit]))).unit).toBe(unit);
    }
    expect(likelyUnits(5)).toEqual(['in']);
    // As large in centimetres is an ordinary foot in inches: that is taken, and what else it could be is said.
    expect(likelyUnits(12.5)).toEqual(['in']);
    expect(inferUnit(12.5).said).toContain('If it is a small child\'s, 125 mm in centimetres, say so with --unit cm.');
    expect(refusal(() => inferUnit(100))).toMatch(/^size-not-foot: .*110 to 480 mm.*--unit/);
    expect(inferUnit(26).said).not.toContain('child');
  });
  it('a unit that is given is taken, with a warning where the size is unusual', () => {
    const twentieth = obj(scaled(footShape({ length: 180 }), 1 / 10));
    expect(readScan(twentieth, { unit: 'cm' }).mesh.positions.reduce((m, c) => Math.max(m, c), 0)).toBeCloseTo(180, 0);
    const large = readScan(obj(scaled(footShape(), 3)), { unit: 'mm' });
    expect([large.unit, large.unitHow]).toEqual(['mm', 'given']);
    expect(large.warnings).toEqual([expect.stringContaining('unusual')]);
  });
  it('a unit that cannot be is refused, with the one that could', () => {
    expect(refusal(() => readScan(obj(scaled(footShape(), 0.001)), { unit: 'mm' }))).toMatch(/^size-not-foot: .*--unit m/);
    expect(refusal(() => readScan(obj(footShape()), { unit: 'm' }))).toMatch(/^size-not-foot: .*--unit mm/);
    expect(refusal(() => readScan(obj(scaled(footShape(), 7)), { unit: 'm' }))).toMatch(/^size-not-foot: /);
  });
});

describe('shapes', () => {
  it.each([401, 402, 403, 404, 405, 406])('no foot is taken for a plane, ball or box: flat-topped, open, with a leg, noisy (seed %i)', (seed) => {
    const random = rng(seed);
    const length = random.range(219, 302);
    const options = { length, breadth: random.range(0.33, 0.44), height: random.range(0.25, 0.42) };
    const bare = footShape(options);
    const flatTopped = footShape({ ...options, flatTop: random.range(35, 60) });
    const open = cutTo(bare, (_x, _y, z) => z > 3 && z < 70);
    const leg = { ...icosphere(1, 4), positions: icosphere(1, 4).positions.map((c, i) => c * [38, 34, 110][i % 3] + [0.19 * length, 0, 130][i % 3]) };
    for (const mesh of [bare, flatTopped, open, merged(bare, leg)]) {
      for (const sigma of [0, 0.05, 0.5]) expect(refusal(() => readScan(binaryStl(posed(noisy(mesh, sigma, random), 300, random))))).toBe('none');
    }
  });
  it.each([411, 412, 413])('balls and boxes are known under noise, in any pose, in part (seed %i)', (seed) => {
    const random = rng(seed);
    const code = (mesh: ReturnType<typeof box>): string => refusal(() => readScan(binaryStl(posed(noisy(mesh, 0.1, random), 300, random)))).split(':')[0];
    const radius = random.range(90, 200);
    expect(code(icosphere(radius, 5))).toBe('sphere-not-foot');
    expect(code(cutTo(icosphere(radius, 5), (_x, _y, z) => z > -0.2 * radius))).toBe('sphere-not-foot');
    const crate = box(random.range(280, 350), random.range(160, 220), random.range(90, 130), 40);
    expect(code(crate)).toBe('box-not-foot');
    const lidless = cutTo(crate, (_x, _y, z) => z < 44);
    expect(code(lidless)).toBe('box-not-foot');
  });
});
