import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { LastTapes } from '@cast-to-last/foot/last-girths';
import { lastTapes } from '@cast-to-last/foot/last-girths';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { CastError } from '../errors.js';
import type { EaseRule, LastRules } from '../rules/last-rules.js';
import type { Shares } from './ease/flank-field.js';
import { flankField } from './ease/flank-field.js';
import { solveThree } from './ease/solve-three.js';
import type { Strain } from './ease/strain.js';
import { strainOf } from './ease/strain.js';
import { tapedSurface } from './ease/taped-surface.js';
import { layTapes, tapeModel } from './ease/tapes.js';
import type { LastBody, LastChange, LastStep } from './last-body.js';

export const EASE = {
  /** Most that a flank may go out or in, mm: beyond it the shape is no foot's. */
  mostOnFlank: 12,
  /** Girths count as met within this, mm. */
  met: 0.02,
  /** Most measurements of the whole body on the way to them. */
  rounds: 5,
  /** Most by which neighbouring points may close up across the foot, as a share of their distance. */
  mostSqueeze: 0.8,
  /** Slope of a flank's change along the foot, mm per mm, from which the maker is told, and at most. */
  slopeTold: 0.35,
  mostSlope: 1.2,
} as const;

const STATIONS = ['ball', 'waist', 'instep'] as const;

/**
 * Brings the girths at ball, waist and instep to what the rules ask for, each against the foot's own: a change of 0 keeps it,
 * or brings it back where stance or sole have moved it. The flanks go out or in, along Y alone and smoothly along the foot:
 * the sole up to the feather line, the side view, the heel and the toes stay. Girths are measured as on the cast, without the
 * finest noise, at the foot's stations, which move along with the surface.
 *
 * @param foot tapes whose girths the changes count from where the body before this step has others: those on the foot, before stance,
 * toes and sole were shaped; absent where the body has them
 * @param keep whether girths of which no change is asked are brought back to the foot's; where that cannot be had they stay what they
 * have become, with a warning
 * @returns the same body where every girth is as asked; changes in mm, ids `ball-girth`, `waist-girth`, `instep-girth`
 * @throws CastError `girth-out-of-reach` where a girth of which a change is asked cannot be measured, or could only be met by a shape
 * that is no foot's
 */
export function easeGirths(body: LastBody, rules: LastRules['ease'], foot?: LastTapes, keep = foot !== undefined): LastStep {
  const asks = STATIONS.map((station) => rules[station]);
  const asked = asks.some(isAsked);
  if (!asked && foot === undefined) return { body, changes: [], warnings: [] };
  const taped = tapedSurface(body);
  const { felt } = taped;
  let tapes = lastTapes(felt, body.landmarks);
  const before = inOrder(tapes);
  asks.forEach((ask, i) => {
    if (isAsked(ask) && before[i] === null) throw unmeasured(STATIONS[i]);
  });
  const from = foot === undefined ? before : inOrder(foot);
  const targets = before.map((girth, i) => (girth === null ? null : keep || isAsked(asks[i]) ? eased(from[i] ?? girth, asks[i]) : girth));
  const missesOf = (girths: readonly (number | null)[]): Float64Array => Float64Array.from(targets, (target, i) => (target === null ? 0 : target - (girths[i] ?? target)));
  const changesTo = (girths: readonly (number | null)[], kept = keep): LastChange[] =>
    STATIONS.flatMap((station, i): LastChange[] => {
      const was = from[i];
      const target = targets[i];
      const is = girths[i];
      if ((foot === undefined && !isAsked(asks[i])) || was === null || target === null || is === null) return [];
      return [{ id: `${station}-girth`, label: `${station} girth`, unit: 'mm', before: was, asked: kept || isAsked(asks[i]) ? target : null, got: is }];
    });
  if (missesOf(before).every(isMet)) return { body, changes: changesTo(before), warnings: [] };
  const { instep, waist } = stationsOf(body.landmarks);
  const laid = layTapes(felt, body.landmarks, tapes, instep, waist);
  const shares = flankField(felt, laid, body.landmarks, instep);
  const model = tapeModel(felt, laid, shares);

  const own = model([0, 0, 0]);
  const aimsFor = (wanted: readonly (number | null)[]): Float64Array => own.map((length, i) => length + (wanted[i] ?? 0) - (before[i] ?? 0));
  const aims = aimsFor(targets);
  const outOfReach = (): CastError => {
    const partly = (share: number): (number | null)[] => targets.map((target, i) => (target === null || !isAsked(asks[i]) ? target : (from[i] ?? target) + share * (target - (from[i] ?? target))));
    const share = mostShare((part) => {
      const solved = solveThree(model, aimsFor(partly(part)), [0, 0, 0]);
      return solved !== null && keepsAFoot(strainOf(felt.mesh.positions, shares, solved), SURELY);
    });
    return beyondReach(asks, share === 0 ? null : partly(share).map((target, i) => (target ?? 0) - (from[i] ?? 0)));
  };
  const refused = (): LastStep => {
    if (!keep) throw outOfReach();
    const { warnings, ...step } = asked ? easeGirths(body, rules, foot, false) : { body, changes: changesTo(before, false), warnings: [] };
    return { ...step, warnings: [NOT_KEPT, ...warnings] };
  };
  const field = fieldOn(body, shares);
  const feltField = taped.moveOf(field);
  let amplitudes: Float64Array = new Float64Array(3);
  let strain: Strain = { most: 0, squeeze: 0, slope: 0 };
  let got = before;
  /** How much more of a girth comes of one millimetre more of its aim: less than 1 where the shortest tape tilts away. */
  const answers = new Float64Array(3).fill(1);
  let raised = new Float64Array(3);
  for (let round = 0; round < EASE.rounds; round++) {
    const solved = solveThree(model, aims, amplitudes);
    if (solved === null) return refused();
    amplitudes = solved;
    strain = strainOf(felt.mesh.positions, shares, amplitudes);
    if (!keepsAFoot(strain, 1)) return refused();
    const last = got;
    const moved = { ...felt, mesh: movedMesh(felt.mesh, feltField, amplitudes) };
    const landmarks = movedLandmarks(body.landmarks, shares, amplitudes);
    tapes = lastTapes(moved, landmarks, tapes);
    // Where those near to the ones before are as wanted, shorter ones may lie elsewhere.
    if (missesOf(inOrder(tapes)).every(isMet)) tapes = lastTapes(moved, landmarks);
    got = inOrder(tapes);
    const misses = missesOf(got);
    if (misses.every(isMet)) break;
    if (round > 0) raised.forEach((by, i) => (answers[i] = answerOf(by, (got[i] ?? 0) - (last[i] ?? 0))));
    raised = misses.map((miss, i) => miss / answers[i]);
    raised.forEach((by, i) => (aims[i] += by));
  }
  return { body: movedBody(body, field, shares, amplitudes), changes: changesTo(got), warnings: strain.slope > EASE.slopeTold ? [UNEVEN] : [] };
}

const isMet = (miss: number): boolean => Math.abs(miss) <= EASE.met;

/** Whether a strain stays within a share of what a foot allows. */
const keepsAFoot = ({ most, squeeze, slope }: Strain, share: number): boolean =>
  most <= share * EASE.mostOnFlank && squeeze <= share * EASE.mostSqueeze && slope <= share * EASE.mostSlope;

/** Share of what a foot allows within which changes are proposed: the shortest tapes, once laid anew, may ask for a little more. */
const SURELY = 0.8;

/** The greatest share, in whole twentieths below 1, that can be had; 0 where there is none. */
function mostShare(canBeHad: (share: number) => boolean): number {
  for (let twentieths = 19; twentieths > 0; twentieths--) if (canBeHad(twentieths / 20)) return twentieths / 20;
  return 0;
}

/** Changes of aim smaller than this, mm, tell nothing of what comes of them. */
const TELLING = 0.01;

const answerOf = (raised: number, grown: number): number => (Math.abs(raised) < TELLING ? 1 : Math.max(0.4, Math.min(1.5, grown / raised)));

const UNEVEN =
  'The changes of girth asked for differ much from one station to the next, which shows as a hollow or a rise between ball and instep; ask for changes that differ less to avoid it.';

const NOT_KEPT = "The stance or the sole has changed the girths so much that the foot's own cannot be brought back: look at what came of them.";

/** Whether a rule asks for a change. */
export const isAsked = (ask: EaseRule): boolean => ('mm' in ask ? ask.mm : ask.percent) !== 0;

const eased = (girth: number, ask: EaseRule): number => ('mm' in ask ? girth + ask.mm : girth * (1 + ask.percent / 100));

const inOrder = ({ ball, waist, instep }: LastTapes): (number | null)[] => [ball?.length ?? null, waist?.girth.length ?? null, instep?.girth.length ?? null];

/** Instep and waist point; on the axis half-way up where the foot is open there, so that the change still has a place to fade. */
function stationsOf({ instep, waist, footLength, ballCentre, medialBall }: Landmarks): { instep: Point; waist: Point } {
  const top = instep ?? [0.5 * footLength, 0, 0.25 * footLength];
  return { instep: top, waist: waist ?? [(top[0] + ballCentre[0]) / 2, 0, (top[2] + 2 * medialBall[2]) / 2] };
}

/** The three shares at each vertex; length 3 × vertices. */
function fieldOn({ mesh }: LastBody, shares: Shares): Float64Array {
  const { positions: p } = mesh;
  const out = new Float64Array(p.length);
  const at = new Float64Array(3);
  for (let i = 0; i < p.length; i += 3) {
    shares(p[i], p[i + 1], p[i + 2], at);
    out.set(at, i);
  }
  return out;
}

/** The mesh with each vertex moved along Y by its three shares of the amplitudes. */
function movedMesh({ positions: p, triangles }: Mesh, field: Float64Array, amplitudes: Float64Array): Mesh {
  const positions = p.slice();
  for (let i = 0; i < field.length; i += 3) positions[i + 1] += amplitudes[0] * field[i] + amplitudes[1] * field[i + 1] + amplitudes[2] * field[i + 2];
  return { positions, triangles };
}

function movedBody(body: LastBody, field: Float64Array, shares: Shares, amplitudes: Float64Array): LastBody {
  const { feather } = body;
  return {
    ...body,
    mesh: movedMesh(body.mesh, field, amplitudes),
    ...(feather !== undefined && { feather: movedLine(feather, shares, amplitudes) }),
    landmarks: movedLandmarks(body.landmarks, shares, amplitudes),
  };
}

function movedLandmarks(landmarks: Landmarks, shares: Shares, amplitudes: Float64Array): Landmarks {
  const at = new Float64Array(3);
  const move = ([x, y, z]: Point): Point => {
    shares(x, y, z, at);
    return [x, y + amplitudes[0] * at[0] + amplitudes[1] * at[1] + amplitudes[2] * at[2], z];
  };
  const maybe = (point: Point | null): Point | null => (point === null ? null : move(point));
  const { medialBall, lateralBall, instep, waist, crook } = landmarks;
  return { ...landmarks, medialBall: move(medialBall), lateralBall: move(lateralBall), instep: maybe(instep), waist: maybe(waist), crook: maybe(crook) };
}

/** A line that goes with the surface. */
function movedLine(line: Float64Array, shares: Shares, amplitudes: Float64Array): Float64Array {
  const out = line.slice();
  const at = new Float64Array(3);
  for (let i = 0; i < line.length; i += 3) {
    shares(line[i], line[i + 1], line[i + 2], at);
    out[i + 1] += amplitudes[0] * at[0] + amplitudes[1] * at[1] + amplitudes[2] * at[2];
  }
  return out;
}

const unmeasured = (station: string): CastError =>
  new CastError('girth-out-of-reach', `The rules ask for a change of the ${station} girth, but the cast is open there and the girth cannot be measured.`, `Set last.ease.${station} to 0, or cast higher.`);

/** @param instead changes in mm that go the same way and can be had; null where there are none */
const beyondReach = (asks: readonly EaseRule[], instead: readonly number[] | null): CastError => {
  const listed = (word: (i: number) => string): string => STATIONS.flatMap((station, i) => (isAsked(asks[i]) ? [`${station} ${word(i)}`] : [])).join(', ');
  const asked = (ask: EaseRule): string => ('mm' in ask ? `${Number(ask.mm.toFixed(2))} mm` : `${Number(ask.percent.toFixed(2))} %`);
  return new CastError(
    'girth-out-of-reach',
    `The changes of girth asked for (${listed((i) => asked(asks[i]))}) cannot be met while sole and side view stay: a flank would have to go out or in by more than ${EASE.mostOnFlank} mm, or the foot would be pinched.`,
    instead === null
      ? 'Ask for smaller changes in last.ease, or for changes that differ less from one station to the next.'
      : `On this foot the same can be had as far as ${listed((i) => `${instead[i].toFixed(1)} mm`)}: ask for that in last.ease, or for changes that differ less from one station to the next.`,
  );
};
