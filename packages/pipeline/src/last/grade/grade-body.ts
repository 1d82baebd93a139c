import { feltSurface } from '@cast-to-last/foot/felt-surface';
import { FRAME } from '@cast-to-last/foot/frame';
import type { Wrapped } from '@cast-to-last/foot/girths';
import type { GradeGrowth } from '@cast-to-last/foot/grade';
import type { LastGirths } from '@cast-to-last/foot/last-girths';
import { lastGirths } from '@cast-to-last/foot/last-girths';
import { CastError } from '../../errors.js';
import type { AskedChange, LastBody, LastStep } from '../last-body.js';
import type { GradeMap } from './grade-map.js';
import { gradeLandmarks, gradePoints } from './grade-map.js';

/** What a graded last shall measure, mm. A girth that is absent grows as the ball does, by the same share. */
export interface GradeTargets {
  readonly length: number;
  readonly ball: number;
  readonly waist?: number;
  readonly instep?: number;
  /** Share by which the heel grows across; that of the length where absent. */
  readonly heelShare?: number;
}

export const GRADE_BODY = {
  /** Girths are set this near to what is asked, mm. */
  within: 0.02,
  rounds: 20,
  /** No factor may leave this range: a last so far from its size is another last. */
  least: 0.7,
  most: 1.4,
} as const;

const LABELS = { ball: 'ball girth', waist: 'waist girth', instep: 'instep girth' } as const;
type GirthName = keyof typeof LABELS;

export interface GradedBody extends LastStep {
  readonly changes: readonly AskedChange[];
}

/** What a body measures, and so what a grade starts from. */
export interface GradeBase {
  readonly length: number;
  readonly girths: LastGirths;
}

export function gradeBase(body: LastBody): GradeBase {
  return { length: lengthOf(body), girths: lastGirths(feltSurface(body.mesh, body.filled), body.landmarks) };
}

/**
 * The targets of a step by sizes and widths: the length and every girth grow by the same millimetres; the heel grows by the
 * share that the sizes alone add to the ball.
 *
 * @throws CastError `cannot-grade` where the body has no ball girth
 */
export function targetsOf({ length, girths }: GradeBase, growth: GradeGrowth): GradeTargets {
  const { ball, waist, instep } = girths;
  if (ball === null) throw noBall();
  return {
    length: length + growth.length, ball: ball + growth.girth, heelShare: 1 + growth.girthOfSizes / ball,
    ...(waist === null ? {} : { waist: waist + growth.girth }), ...(instep === null ? {} : { instep: instep + growth.girth }),
  };
}

/**
 * The body grown to the targets: length exactly, girths within GRADE_BODY.within at their own stations, which move along.
 *
 * @throws CastError `cannot-grade` where a girth that is asked cannot be measured, `grade-out-of-reach` where a target lies too
 * far from the last to be the same last, `grade-not-reached` where the girths do not settle
 */
export function gradeBody(body: LastBody, base: GradeBase, targets: GradeTargets): GradedBody {
  const { length, girths } = base;
  if (girths.ball === null) throw noBall();
  const byBall = targets.ball / girths.ball;
  const asked: Partial<Record<GirthName, number>> = { ball: targets.ball };
  for (const name of ['waist', 'instep'] as const) {
    const before = girths[name];
    if (targets[name] !== undefined && before === null) throw new CastError('cannot-grade', `The ${LABELS[name]} of this last cannot be measured.`, 'Leave it out of the targets.');
    if (before !== null) asked[name] = targets[name] ?? byBall * before;
  }
  const along = targets.length / length;
  const share = (name: GirthName): number => (asked[name] === undefined ? byBall : (asked[name] as number) / (girths[name] as number));
  let map: GradeMap = { along, across: [targets.heelShare ?? along, share('instep'), share('waist'), byBall] };
  for (const factor of [map.along, ...map.across]) {
    if (!(factor >= GRADE_BODY.least && factor <= GRADE_BODY.most)) {
      throw new CastError('grade-out-of-reach', `A part of the last would have to become ${factor.toFixed(2)} times as large.`, 'Grade by fewer steps, or start from a last that is nearer to this size.');
    }
  }
  const felt = feltSurface(body.mesh, body.filled);
  let got = girthsUnder(felt, body, map);
  for (let round = 0; furthest(asked, got) > GRADE_BODY.within; round++) {
    if (round === GRADE_BODY.rounds) throw new CastError('grade-not-reached', `The girths stay ${furthest(asked, got).toFixed(1)} mm off what is asked.`, 'Ask for girths that differ less from each other.');
    const [heel, instep, waist, ball] = map.across;
    const by = (name: GirthName): number => (asked[name] === undefined || got[name] === null ? 1 : (asked[name] as number) / (got[name] as number));
    map = { along, across: [heel, instep * by('instep'), waist * by('waist'), ball * by('ball')] };
    got = girthsUnder(felt, body, map);
  }
  const mesh = { positions: gradePoints(body.mesh.positions, map, body.landmarks), triangles: body.mesh.triangles };
  const landmarks = gradeLandmarks(body.landmarks, map);
  const graded: LastBody = { ...body, mesh, landmarks, ...(body.feather !== undefined && { feather: gradePoints(body.feather, map, body.landmarks) }) };
  return { body: graded, changes: changes(base, targets.length, asked, gradeBase(graded)), warnings: [] };
}

/** Girths of the felt surface under a map; its stations move along. */
function girthsUnder(felt: Wrapped, { landmarks }: LastBody, map: GradeMap): LastGirths {
  const mesh = { positions: gradePoints(felt.mesh.positions, map, landmarks), triangles: felt.mesh.triangles };
  return lastGirths({ ...felt, mesh }, gradeLandmarks(landmarks, map));
}

function furthest(asked: Partial<Record<GirthName, number>>, got: LastGirths): number {
  let most = 0;
  for (const name of Object.keys(asked) as GirthName[]) most = Math.max(most, Math.abs((asked[name] as number) - (got[name] ?? Infinity)));
  return most;
}

function changes(base: GradeBase, length: number, asked: Partial<Record<GirthName, number>>, graded: GradeBase): AskedChange[] {
  const of = (name: GirthName): AskedChange[] => {
    const before = base.girths[name];
    const got = graded.girths[name];
    const wanted = asked[name];
    return before === null || got === null || wanted === undefined ? [] : [{ id: `grade-${name}`, label: LABELS[name], unit: 'mm', before, asked: wanted, got }];
  };
  return [{ id: 'grade-length', label: 'length of the last', unit: 'mm', before: base.length, asked: length, got: graded.length }, ...of('ball'), ...of('waist'), ...of('instep')];
}

/** Along x, from the rearmost point of the heel, as the foot's length is taken. */
function lengthOf({ mesh: { positions: p }, landmarks }: LastBody): number {
  const ceiling = FRAME.pternionCeiling * landmarks.footLength;
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < p.length; i += 3) {
    if (p[i + 2] <= ceiling) low = Math.min(low, p[i]);
    high = Math.max(high, p[i]);
  }
  return high - low;
}

const noBall = (): CastError => new CastError('cannot-grade', 'The ball girth of this last cannot be measured.', 'Grade a last whose section round the ball is closed.');
