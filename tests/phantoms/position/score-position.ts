import { stanceFor, type CheckRules } from '@cast-to-last/pipeline/rules/check-rules';
import type { CastPlan } from './plan-cast.js';
import type { PositionTruth } from './position-truth.js';
import type { CheckRun } from './run-check.js';

export const READING_IDS = [
  'forward-lean', 'rear-view', 'sole-bend', 'heel-pitch', 'toe-pitch', 'ball-on-hinge', 'forefoot-twist', 'heel-on-plate', 'sole-flatness', 'toe-box', 'beyond-toes', 'foot-length',
] as const;
export type ReadingId = (typeof READING_IDS)[number];

export interface ReadingScore {
  readonly id: ReadingId;
  /** By the reference; null where the definitions give none. */
  readonly truth: number | null;
  /** By the program; null where it cannot read it, undefined where it has no such reading. */
  readonly value: number | null | undefined;
  readonly uncertainty: number | null;
  /** False where the planted error leaves the reading without a meaning. */
  readonly counts: boolean;
}

export interface PositionScore {
  readonly plan: CastPlan;
  readonly family: string;
  readonly readings: readonly ReadingScore[];
  readonly verdict: 'usable' | 'usable-with-care' | 'recast' | 'refused';
  /** Codes of the findings that need care or a new cast, or the refusal's. */
  readonly codes: readonly { readonly code: string; readonly severity: 'care' | 'recast' }[];
  /** How far the worst reading of the reference lies from what is wanted, as a share of the limit for a new cast, and which. */
  readonly worst: { readonly code: string; readonly share: number };
  /** Null where the reference says that the error came out at another strength than planned. */
  readonly right: boolean | null;
  /** Between the program's frame and the true one, degrees; null where the scan was refused. */
  readonly frameAngleDeg: number | null;
  readonly seconds: number;
}

/** What each reading shall be, by its id. */
export function trueReadings({ heelPitchDeg, toePitchDeg, casting }: CastPlan, truth: PositionTruth): Readonly<Record<ReadingId, number | null>> {
  const ordered = casting.footbed !== undefined;
  return {
    'forward-lean': truth.leanInFrameDeg === null ? null : truth.leanInFrameDeg + heelPitchDeg,
    'rear-view': truth.rearViewDeg,
    'sole-bend': truth.bendDeg,
    'heel-pitch': ordered ? truth.bendDeg - toePitchDeg : null,
    'toe-pitch': ordered ? truth.bendDeg - heelPitchDeg : null,
    'ball-on-hinge': truth.hingeMm,
    'forefoot-twist': truth.twistDeg,
    'heel-on-plate': truth.heelOnPlateDeg,
    'sole-flatness': truth.flatnessMm,
    'toe-box': truth.toeBox,
    'beyond-toes': truth.beyondToesMm,
    'foot-length': truth.footLengthMm,
  };
}

/** Deviations of the reference's readings, as shares of the limits for a new cast; only what the order lets be weighed. */
export function referenceShares(plan: CastPlan, truth: PositionTruth, rules: CheckRules): ReadonlyMap<string, number> {
  const { stance } = stanceFor(rules, plan.casting.discipline);
  const read = trueReadings(plan, truth);
  const shares = new Map<string, number>();
  const weigh = (code: string, value: number | null, wanted: number, limit: number): void => {
    if (value !== null) shares.set(code, Math.abs(value - wanted) / limit);
  };
  if (plan.casting.footbed !== undefined) {
    weigh('forward-lean', read['forward-lean'], plan.casting.plan?.forwardLeanDeg ?? stance.forwardLeanDeg, stance.forwardLean.recast);
    weigh('sole-bend', read['sole-bend'], plan.heelPitchDeg + plan.toePitchDeg, rules.soleBend.recast);
  }
  weigh('rear-view', read['rear-view'], plan.casting.plan?.rearViewDeg ?? stance.rearViewDeg, stance.rearView.recast);
  weigh('heel-on-plate', read['heel-on-plate'], 0, rules.heelOnPlate.recast);
  weigh('ball-on-hinge', read['ball-on-hinge'], 0, rules.ballOnHinge.recast);
  weigh('forefoot-twist', read['forefoot-twist'], 0, rules.forefootTwist.recast);
  weigh('sole-flatness', read['sole-flatness'], 0, rules.soleFlatness.recast);
  // A share is wanted that is as large as possible: at `care` nothing is wrong yet, at `recast` the limit is reached.
  weigh('toe-box', Math.min(rules.toeBox.care, truth.toeBox), rules.toeBox.care, rules.toeBox.care - rules.toeBox.recast);
  return shares;
}

/** From this share of the limit on an error counts as one of one and a half times the limit. */
const CLEARLY_OVER = 1.4;
/** Between these shares nothing but care is right. */
const CARE_FROM = 0.6;
const CARE_TO = 0.9;

/** One cast's figures. `family`: how the foot was drawn. */
export function scorePosition(plan: CastPlan, family: string, truth: PositionTruth, run: CheckRun | { readonly refused: string }, rules: CheckRules): PositionScore {
  const expected = trueReadings(plan, truth);
  const shares = referenceShares(plan, truth, rules);
  const worst = [...shares].reduce((a, [code, share]) => (share > a.share ? { code, share } : a), { code: '', share: 0 });
  const { planted } = plan;
  const refused = 'refused' in run;
  const verdict = refused ? 'refused' : run.check.verdict;
  const codes = refused
    ? [{ code: run.refused, severity: 'recast' as const }]
    : run.check.findings.flatMap(({ code, severity }) => (severity === 'note' ? [] : [{ code, severity }]));
  const read = new Map(refused ? [] : run.check.readings.map((r) => [r.id, r]));
  const beyond = read.get('beyond-toes')?.value ?? 0;
  const readings = READING_IDS.map((id): ReadingScore => {
    const reading = read.get(id);
    const value = id === 'foot-length' ? (refused ? undefined : run.footLength - beyond) : reading?.value;
    const uncertainty = read.get(id === 'foot-length' ? 'beyond-toes' : id)?.uncertainty ?? null;
    return { id, truth: expected[id], value, uncertainty, counts: !planted?.unsettles.includes(id) };
  });

  const right = (): boolean | null => {
    if (planted === null) return verdict !== 'recast' && verdict !== 'refused';
    const { verdict: wanted, codes: accepted, orRefused } = planted.expected;
    if (refused) return orRefused ?? false;
    const own = Math.max(...accepted.map((code) => shares.get(code) ?? NaN).filter((s) => !Number.isNaN(s)), -Infinity);
    if (wanted === 'recast') {
      if (own > -Infinity && own < CLEARLY_OVER) return null;
      return verdict === 'recast' && codes.some((c) => c.severity === 'recast' && accepted.includes(c.code));
    }
    if (own > -Infinity && (own < CARE_FROM || own > CARE_TO)) return null;
    // Where the reference finds another reading beyond its limit the cast is not one for care alone.
    const others = [...shares].some(([, share]) => share > CARE_TO);
    return codes.some((c) => accepted.includes(c.code)) && (others || verdict === 'usable-with-care');
  };
  return { plan, family, readings, verdict, codes, worst, right: right(), frameAngleDeg: refused ? null : run.frameAngleDeg, seconds: refused ? 0 : run.seconds };
}
