import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { CastError } from '@cast-to-last/pipeline/errors';
import { checkScanner } from '@cast-to-last/pipeline/scanner/scanner-check';
import type { Gauge, ScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-check';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { judgeScanner } from '@cast-to-last/pipeline/scanner/scanner-verdict';
import type { BallScanOptions } from '../../phantoms/balls/draw-scene.js';
import { makeBallScan } from '../../phantoms/balls/make-ball-scan.js';
import type { BallScan } from '../../phantoms/balls/make-ball-scan.js';
import { cutTo, noisy } from '../../support/disturb.js';
import { flipped, icosphere, merged, openCylinder } from '../../support/meshes.js';
import { rng } from '../../support/rng.js';

const gaugeOf = (scan: BallScan, uncertaintyMm = 0): Gauge => ({ diameterMm: scan.diameter, distanceMm: scan.distance, uncertaintyMm });
const checked = (seed: number, options: BallScanOptions): { scan: BallScan; check: ScannerCheck } => {
  const scan = makeBallScan(seed, options);
  return { scan, check: checkScanner({ mesh: scan.mesh, unit: 'auto' }, gaugeOf(scan)) };
};
const codeOf = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof CastError) return error.code;
    throw error;
  }
  return 'none';
};
const moved = (mesh: Mesh, x: number, y: number, z: number): Mesh => ({ positions: mesh.positions.map((c, i) => c + [x, y, z][i % 3]), triangles: mesh.triangles });

const WELL_SEEN = { balls: 2, diameter: 30, distance: 75, edge: 0.55, noise: 0.03, views: 8, round: 1, wrong: false, clutter: 1 } as const satisfies BallScanOptions;

describe('a true scanner', () => {
  it.each([301, 302, 303])('shows both balls within 0.01 mm of where they are at 0.03 mm of noise, and is within limits (phantom %i)', (seed) => {
    const { scan, check } = checked(seed, WELL_SEEN);
    expect(check.unit).toBe(scan.unit);
    expect(check.balls).toHaveLength(2);
    for (const ball of check.balls) {
      expect(Math.min(...scan.centres.map((c) => Math.hypot(...c.map((x, k) => x - ball.centre[k]))))).toBeLessThan(0.01);
      expect(Math.abs(ball.sizeErrorMm)).toBeLessThan(0.02);
      expect(Math.abs(ball.noiseMm - 0.03)).toBeLessThan(0.01);
      // 95 % of normal errors lie within a shell of 2 × 1.96 standard deviations.
      expect(ball.form95Mm / (3.92 * ball.noiseMm)).toBeGreaterThan(0.85);
      expect(ball.form95Mm / (3.92 * ball.noiseMm)).toBeLessThan(1.15);
      expect(ball.formErrorMm).toBeGreaterThan(ball.form95Mm);
    }
    expect(Math.abs(check.spacing!.errorMm)).toBeLessThan(0.01);
    expect(Math.abs(check.scale.factor - 1)).toBeLessThan(1e-4);
    expect(judgeScanner(check, DEFAULT_RULES.scanner).verdict).toBe('within-limits');
  });
});

describe('a false scanner', () => {
  it.each([[311, 0.004], [312, -0.006]])('with a wrong scale shows it in the spacing, and the factor sets it right (phantom %i, scale error %d)', (seed, scaleError) => {
    const { scan, check } = checked(seed, { ...WELL_SEEN, scaleError });
    expect(check.spacing!.errorMm).toBeGreaterThan(scaleError * scan.distance! - 0.02);
    expect(check.spacing!.errorMm).toBeLessThan(scaleError * scan.distance! + 0.02);
    expect(check.scale).toMatchObject({ from: 'spacing', significant: true });
    expect(Math.abs(check.scale.factor * (1 + scaleError) - 1)).toBeLessThan(1.5e-4);
    const { verdict, judgements } = judgeScanner(check, DEFAULT_RULES.scanner);
    expect(verdict).toBe('out-of-limits');
    expect(judgements.filter((j) => !j.within).map((j) => j.id)).toContain('sphere-spacing-error');
  });

  it('that sees every surface too far out shows it in size and not in spacing, and says so (phantom 313)', () => {
    const { check } = checked(313, { ...WELL_SEEN, offset: 0.15 });
    expect(Math.abs(check.spacing!.errorMm)).toBeLessThan(0.02);
    for (const ball of check.balls) expect(Math.abs(ball.sizeErrorMm - 0.3)).toBeLessThan(0.02);
    expect(check.warnings.join()).toContain('too large, as from a coating');
    expect(judgeScanner(check, DEFAULT_RULES.scanner).judgements.filter((j) => !j.within).map((j) => j.id)).toEqual(['size-error', 'size-error']);
  });

  it('whose views do not fit together shows it in form (phantom 314)', () => {
    const fits = checked(314, WELL_SEEN).check;
    const { check } = checked(314, { ...WELL_SEEN, misfit: 0.5 });
    for (const [i, ball] of check.balls.entries()) expect(ball.form95Mm).toBeGreaterThan(fits.balls[i].form95Mm + 0.1);
    expect(judgeScanner(check, DEFAULT_RULES.scanner).judgements.filter((j) => !j.within).map((j) => j.id)).toContain('form-error');
  });
});

describe('units', () => {
  it.each(['mm', 'cm', 'm', 'in'] as const)('%s is told from the size of the ball, and taken where given', (unit) => {
    const scan = makeBallScan(321, { ...WELL_SEEN, balls: 1, unit });
    const inferred = checkScanner({ mesh: scan.mesh, unit: 'auto' }, gaugeOf(scan));
    expect(inferred).toMatchObject({ unit, unitHow: 'inferred' });
    expect(checkScanner({ mesh: scan.mesh, unit }, gaugeOf(scan)).balls).toEqual(inferred.balls);
  });
});

it('a ball that is there in two units is asked about, unless the distance to a second one tells', () => {
  const mesh = merged(icosphere(12, 5), moved(icosphere(12, 5), 100, 0, 0), moved(icosphere(12 / 2.54, 5), 0, 50, 0));
  const gauge = { diameterMm: 24, distanceMm: null, uncertaintyMm: 0 };
  expect(codeOf(() => checkScanner({ mesh: { positions: mesh.positions.map((c) => c / 10), triangles: mesh.triangles }, unit: 'auto' }, gauge))).toBe('unit-ambiguous');
  expect(checkScanner({ mesh: { positions: mesh.positions.map((c) => c / 10), triangles: mesh.triangles }, unit: 'auto' }, { ...gauge, distanceMm: 100 }).unit).toBe('cm');
});

describe('one ball', () => {
  it('gives the scale by its diameter, and no spacing', () => {
    const { scan, check } = checked(331, { ...WELL_SEEN, balls: 1, scaleError: 0.01 });
    expect(check.spacing).toBeNull();
    expect(check.scale.from).toBe('diameter');
    expect(Math.abs(check.scale.factor * 1.01 - 1)).toBeLessThan(1e-3);
    expect(check.scale.uncertainty).toBeGreaterThan(Math.abs(check.scale.factor * 1.01 - 1) / 3);
    expect(scan.distance).toBeNull();
  });

  it('carries the calibration\'s own uncertainty', () => {
    const scan = makeBallScan(332, { ...WELL_SEEN, balls: 1 });
    const plain = checkScanner({ mesh: scan.mesh, unit: 'auto' }, gaugeOf(scan));
    const doubtful = checkScanner({ mesh: scan.mesh, unit: 'auto' }, gaugeOf(scan, 0.05));
    expect(doubtful.balls[0].diameterUncertaintyMm).toBeCloseTo(Math.hypot(plain.balls[0].fitUncertaintyMm, 0.05), 12);
    expect(doubtful.scale.uncertainty).toBeGreaterThan(0.05 / scan.diameter);
  });

  it('whose triangles face inwards is measured all the same, and that is said', () => {
    const check = checkScanner({ mesh: flipped(icosphere(12, 5)), unit: 'mm' }, { diameterMm: 24, distanceMm: null, uncertaintyMm: 0 });
    expect(check.balls[0].diameterMm).toBeCloseTo(24, 6);
    expect(check.warnings.join()).toContain('inwards');
  });

  it('is told from another round thing that is nearly as large, better seen or not, which is said', () => {
    const ball = icosphere(12, 5);
    const gauge = { diameterMm: 24, distanceMm: null, uncertaintyMm: 0 };
    const other = moved(icosphere(12 * 0.94, 5), 100, 0, 0);
    for (const mesh of [merged(ball, other), merged(cutTo(ball, (_x, _y, z) => z > -6), other)]) {
      const check = checkScanner({ mesh, unit: 'mm' }, gauge);
      expect(check.balls.map(({ diameterMm }) => diameterMm)).toEqual([expect.closeTo(24, 1)]);
      expect(Math.abs(check.scale.factor - 1)).toBeLessThan(1e-3);
      expect(check.warnings.join()).toContain('A ball of 22.6 mm was left out');
    }
  });

  it('and another that is hardly larger are both measured, and it is said that they are unlike', () => {
    const two = (share: number): ScannerCheck =>
      checkScanner({ mesh: merged(icosphere(12, 5), moved(icosphere(12 * share, 5), 100, 0, 0)), unit: 'mm' }, { diameterMm: 24, distanceMm: null, uncertaintyMm: 0 });
    expect(two(1.015).balls).toHaveLength(2);
    expect(two(1.015).warnings.join()).toContain('come out unlike');
    expect(two(1.004).balls).toHaveLength(2);
    expect(two(1.004).warnings.join()).not.toContain('unlike');
  });

  it('is worth more than a second one of which too little is seen', () => {
    const mesh = merged(icosphere(12, 5), moved(cutTo(icosphere(12, 5), (_x, _y, z) => z > 7), 60, 0, 0));
    expect(checkScanner({ mesh, unit: 'mm' }, { diameterMm: 24, distanceMm: null, uncertaintyMm: 0 }).balls).toHaveLength(1);
  });
});

describe('refusals', () => {
  const gauge: Gauge = { diameterMm: 24, distanceMm: null, uncertaintyMm: 0 };
  const run = (mesh: Mesh, asked: Gauge = gauge) => () => checkScanner({ mesh, unit: 'mm' }, asked);

  it('of a scan without such a ball, naming the one that is there', () => {
    expect(codeOf(run(icosphere(30, 4)))).toBe('no-ball-found');
    expect(run(icosphere(30, 4))).toThrow(/One of about (59.9|60.0) mm is there/);
    expect(codeOf(run(openCylinder(12, 60, 48, 40)))).toBe('no-ball-found');
    expect(run(openCylinder(12, 60, 48, 40))).not.toThrow('is there');
  });

  it('of a bowl, which is hollow where a ball would be', () => {
    expect(codeOf(run(flipped(cutTo(icosphere(12, 5), (_x, _y, z) => z < 0.5))))).toBe('no-ball-found');
  });

  it('of a ball of which too little is seen, saying how much', () => {
    const cap = cutTo(icosphere(12, 6), (_x, _y, z) => z > 8.4);
    expect(codeOf(run(cap))).toBe('ball-mostly-unseen');
    expect(run(cap)).toThrow(/Only 1[0-5] % of the surface/);
  });

  it('of a ball with too few points', () => {
    expect(codeOf(run(icosphere(12, 1)))).toBe('ball-too-coarse');
  });

  it('of one ball where the distance of two was given, and of another distance', () => {
    const two = merged(icosphere(12, 4), moved(icosphere(12, 4), 100, 0, 0));
    expect(codeOf(run(icosphere(12, 4), { ...gauge, distanceMm: 100 }))).toBe('second-ball-not-found');
    expect(codeOf(run(two, { ...gauge, distanceMm: 120 }))).toBe('ball-spacing-mismatch');
    expect(codeOf(run(two, { ...gauge, distanceMm: 101 }))).toBe('none');
  });

  it('never with another error than a CastError, whatever is scanned (seed 341)', () => {
    const random = rng(341);
    for (let n = 0; n < 30; n++) {
      const points = Float64Array.from({ length: 300 }, () => random.normal() * 10 ** random.range(-2, 4));
      const mesh = { positions: points, triangles: Uint32Array.from({ length: 300 }, () => random.below(100)) };
      expect(codeOf(run(mesh))).not.toBe('none');
    }
    expect(codeOf(run({ positions: new Float64Array(0), triangles: new Uint32Array(0) }))).toBe('no-ball-found');
  });
});

it('the pair that is meant is chosen among three balls by its distance', () => {
  const ball = noisy(icosphere(12, 5), 0.01, rng(351));
  const mesh = merged(ball, moved(ball, 100, 0, 0), moved(ball, 0, 160, 0));
  const check = checkScanner({ mesh, unit: 'mm' }, { diameterMm: 24, distanceMm: 160.3, uncertaintyMm: 0 });
  expect(check.spacing!.measuredMm).toBeCloseTo(160, 2);
  expect(check.spacing!.errorMm).toBeCloseTo(-0.3, 2);
});
