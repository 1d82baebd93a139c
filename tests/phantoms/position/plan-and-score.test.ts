import { describe, expect, it } from 'vitest';
import { parseOrder } from '@cast-to-last/pipeline/order';
import type { CastCheck, Finding } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { CYCLE, planCast, type CastPlan } from './plan-cast.js';
import { PLANTED_ERRORS } from './plan-errors.js';
import type { PositionTruth } from './position-truth.js';
import { scorePosition } from './score-position.js';

const plans = Array.from({ length: CYCLE }, (_, i) => planCast(CYCLE * 3 + i, 20_000));
const { check } = DEFAULT_RULES;

describe('planCast', () => {
  it('plans sound casts on every kind of bed and each error once in a cycle, and the same for the same seed', () => {
    expect(CYCLE).toBe(60);
    expect(new Set(plans.filter((p) => p.planted === null).map((p) => p.bed)).size).toBe(5);
    expect(plans.flatMap((p) => p.planted ?? [])).toEqual(PLANTED_ERRORS);
    expect(planCast(187, 20_000)).toEqual(planCast(187, 20_000));
  });

  it('gives orders that the program accepts, with the pitches that follow from their plates', () => {
    for (const { casting, heelPitchDeg, toePitchDeg } of plans) {
      const { footbed: bed } = parseOrder({ orderNumber: 'P-1', ...casting });
      if (bed === undefined) continue;
      expect(Math.sin((heelPitchDeg * Math.PI) / 180) * bed.heelToHingeMm).toBeCloseTo(bed.heelHeightMm - bed.hingeHeightMm, 9);
      expect(Math.sin((toePitchDeg * Math.PI) / 180) * bed.hingeToToeMm).toBeCloseTo(bed.toeHeightMm - bed.hingeHeightMm, 9);
    }
  });

  it('keeps sound casts within the limits for care', () => {
    for (const { planted, options, casting, heelPitchDeg, toePitchDeg } of plans) {
      if (planted !== null) continue;
      const { position } = options;
      expect(Math.abs(position.hingeMm ?? 0)).toBeLessThan(check.ballOnHinge.care);
      if (casting.footbed !== undefined) expect(Math.abs(position.bendDeg - heelPitchDeg - toePitchDeg)).toBeLessThan(check.soleBend.care);
      expect(position.twistDeg ?? position.heelOnPlateDeg ?? position.sole ?? position.fold ?? position.missing).toBeUndefined();
    }
  });
});

const planWith = (error: string, strength: string): CastPlan => plans.find((p) => p.planted?.error === error && p.planted.strength === strength) as CastPlan;

/** A reference that reads what the plan asked for. */
function truthOf({ options: { position } }: CastPlan, changes: Partial<PositionTruth> = {}): PositionTruth {
  return {
    bendDeg: position.bendDeg, twistDeg: 0, hingeMm: position.bendDeg > 4 ? (position.hingeMm ?? 0) : null, heelOnPlateDeg: 0, flatnessMm: 0.4, leanInFrameDeg: position.leanInFrameDeg,
    contact: { bendDeg: position.bendDeg, hingeMm: null },
    rearViewDeg: position.rearViewDeg, toeBox: 0.7, toeSpread: 0.5, beyondToesMm: 0, footLengthMm: 250, ...changes,
  };
}

function outcome(verdict: CastCheck['verdict'], ...found: (readonly [string, Finding['severity']])[]) {
  const findings = found.map(([code, severity]): Finding => ({ code, severity, value: 1, limit: 1, unit: '', text: '', uncertainty: null, at: null }));
  return { check: { verdict, findings, readings: [] }, footLength: 250, frameAngleDeg: 0.1, seconds: 1 };
}

describe('scorePosition', () => {
  const lean = planWith('shank forward', '1.5');

  it('asks for a new cast with the right code among the reasons', () => {
    const score = (run: Parameters<typeof scorePosition>[3]) => scorePosition(lean, 'bones', truthOf(lean), run, check).right;
    expect(score(outcome('recast', ['forward-lean', 'recast'], ['toe-box', 'care']))).toBe(true);
    expect(score(outcome('recast', ['toe-box', 'recast'], ['forward-lean', 'care']))).toBe(false);
    expect(score(outcome('usable-with-care', ['forward-lean', 'care']))).toBe(false);
    expect(score({ refused: 'not-a-foot' })).toBe(false);
  });

  it('leaves out an error that came out weaker than planned', () => {
    const weak = truthOf(lean, { leanInFrameDeg: lean.options.position.leanInFrameDeg - 4 });
    expect(scorePosition(lean, 'bones', weak, outcome('usable'), check).right).toBeNull();
  });

  it('takes a refusal for right only where nothing can be made of the scan', () => {
    const open = planWith('toes open', '30 mm');
    expect(scorePosition(open, 'bones', truthOf(open), { refused: 'not-a-foot' }, check).right).toBe(true);
    const sound = plans[0];
    expect(scorePosition(sound, 'bones', truthOf(sound), { refused: 'not-a-foot' }, check).right).toBe(false);
    expect(scorePosition(sound, 'bones', truthOf(sound), outcome('usable-with-care', ['toe-box', 'care']), check).right).toBe(true);
    expect(scorePosition(sound, 'bones', truthOf(sound), outcome('recast', ['toe-box', 'recast']), check).right).toBe(false);
  });

  it('gives angles in the floor frame and pitches by the plates of the order', () => {
    const { readings } = scorePosition(lean, 'bones', truthOf(lean), outcome('usable'), check);
    const truth = (id: string) => readings.find((r) => r.id === id)?.truth as number;
    expect(truth('forward-lean')).toBeCloseTo(lean.options.position.leanInFrameDeg + lean.heelPitchDeg, 9);
    expect(truth('heel-pitch') + truth('toe-pitch')).toBeCloseTo(2 * truth('sole-bend') - lean.heelPitchDeg - lean.toePitchDeg, 9);
  });
});
