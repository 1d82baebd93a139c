import type { Random } from '../random.js';
import type { Position } from './position.js';

/** What the check must come to. `recast` and `care`: with one of the codes among the findings of at least that severity. */
export interface Expected {
  readonly verdict: 'recast' | 'care';
  readonly codes: readonly string[];
  /** Turning the scan away is right too. */
  readonly orRefused?: boolean;
}

/** An error as it is planted on a sound position. Deviations in units of the limit for a new cast, so that they follow the rules. */
export interface PlantedError {
  readonly error: string;
  readonly strength: string;
  /** Needs a bed that shows a crease. */
  readonly onHinge?: boolean;
  readonly leanOff?: number;
  readonly rearViewOff?: number;
  readonly bendOff?: number;
  readonly hingeOff?: number;
  readonly change?: (position: Position, limits: Limits, random: Random) => Partial<Position>;
  /** mm over the inner ankle bone that the cast ends. */
  readonly rise?: number;
  readonly expected: Expected;
  /** Readings that the error leaves without a meaning, or that are the error itself in another guise. */
  readonly unsettles: readonly string[];
}

/** The limits for a new cast of the readings that errors are planted in; degrees, mm; of the toe box the limit of care, too, shares of the ball width. */
export interface Limits {
  readonly twist: number;
  readonly heelOnPlate: number;
  readonly toeBox: { readonly care: number; readonly recast: number };
}

const recast = (...codes: string[]): Expected => ({ verdict: 'recast', codes });
const care = (...codes: string[]): Expected => ({ verdict: 'care', codes });
const SOLE = ['sole-bend', 'heel-pitch', 'toe-pitch', 'ball-on-hinge', 'forefoot-twist', 'heel-on-plate', 'sole-flatness'];
const ALL = [...SOLE, 'forward-lean', 'rear-view', 'toe-box', 'beyond-toes', 'foot-length'];

const twist = (share: number): PlantedError['change'] => (_p, { twist: limit }) => ({ twistDeg: share * limit });
const heel = (share: number): PlantedError['change'] => (_p, { heelOnPlate: limit }) => ({ heelOnPlateDeg: share * limit });
/** A share is wanted that is as large as possible: at `care` nothing is wrong yet. */
const squeezed = (share: number): PlantedError['change'] => (_p, { toeBox: { care, recast } }) => ({ toeBox: care - share * (care - recast) });
const sole = (kind: 'hammocked' | 'rocking' | 'uneven', heightMm: number): PlantedError['change'] => () => ({ sole: { kind, heightMm } });
const fold = (lengthMm: number, where: 'over' | 'under'): PlantedError['change'] => (_p, _l, random) => ({
  fold: { lengthMm, where, thicknessMm: random.between(9, 15), breadth: random.between(0.58, 0.85) },
});
const openToes = (depthMm: number): PlantedError['change'] => () => ({ missing: { kind: 'toes', depthMm } });
const patch = (share: number): PlantedError['change'] => (_p, _l, random) => ({
  missing: { kind: 'patch', place: random.pick(['heel', 'instep', 'inner-side', 'outer-side', 'sole'] as const), share },
});

/** A rolled forefoot makes the crease slant: where it meets the inside of the ball is no longer where the hinge was. */
const ROLLED = ['ball-on-hinge', 'sole-flatness'];
/** A bent heel seat belongs to neither plate. */
const TILTED = ['sole-flatness'];
const FOLDED = ['toe-box', 'sole-flatness'];

/** Every error at its strengths, planted one after the other. */
export const PLANTED_ERRORS: readonly PlantedError[] = [
  { error: 'shank forward', strength: '0.8', leanOff: 0.8, expected: care('forward-lean'), unsettles: [] },
  { error: 'shank forward', strength: '1.5', leanOff: 1.5, expected: recast('forward-lean'), unsettles: [] },
  { error: 'shank back', strength: '1.5', leanOff: -1.5, expected: recast('forward-lean'), unsettles: [] },
  { error: 'leg inwards', strength: '0.8', rearViewOff: 0.8, expected: care('rear-view'), unsettles: [] },
  { error: 'leg inwards', strength: '1.5', rearViewOff: 1.5, expected: recast('rear-view'), unsettles: [] },
  { error: 'leg outwards', strength: '1.5', rearViewOff: -1.5, expected: recast('rear-view'), unsettles: [] },
  { error: 'bent too much', strength: '0.8', onHinge: true, bendOff: 0.8, expected: care('sole-bend'), unsettles: [] },
  { error: 'bent too much', strength: '1.5', onHinge: true, bendOff: 1.5, expected: recast('sole-bend'), unsettles: [] },
  { error: 'bent too little', strength: '1.5', onHinge: true, bendOff: -1.5, expected: recast('sole-bend'), unsettles: [] },
  { error: 'heel lifted', strength: '0.8', change: heel(0.8), expected: care('heel-on-plate'), unsettles: TILTED },
  { error: 'heel lifted', strength: '1.5', change: heel(1.5), expected: recast('heel-on-plate'), unsettles: TILTED },
  { error: 'heel sunk', strength: '1.5', change: heel(-1.5), expected: recast('heel-on-plate'), unsettles: TILTED },
  { error: 'hinge ahead', strength: '0.8', onHinge: true, hingeOff: 0.8, expected: care('ball-on-hinge'), unsettles: [] },
  { error: 'hinge ahead', strength: '1.5', onHinge: true, hingeOff: 1.5, expected: recast('ball-on-hinge'), unsettles: [] },
  { error: 'hinge behind', strength: '1.5', onHinge: true, hingeOff: -1.5, expected: recast('ball-on-hinge'), unsettles: [] },
  { error: 'hinge behind', strength: '2.1', onHinge: true, hingeOff: -2.1, expected: recast('ball-on-hinge'), unsettles: [] },
  { error: 'forefoot rolled out', strength: '0.8', change: twist(0.8), expected: care('forefoot-twist'), unsettles: ROLLED },
  { error: 'forefoot rolled out', strength: '1.5', change: twist(1.5), expected: recast('forefoot-twist'), unsettles: ROLLED },
  { error: 'forefoot rolled in', strength: '1.5', change: twist(-1.5), expected: recast('forefoot-twist'), unsettles: ROLLED },
  { error: 'sole hammocked', strength: '8 mm', change: sole('hammocked', 8), expected: recast('sole-flatness', 'forefoot-twist'), unsettles: SOLE },
  { error: 'sole rocking', strength: '8 mm', change: sole('rocking', 8), expected: recast('sole-flatness', 'heel-on-plate'), unsettles: SOLE },
  { error: 'sole uneven', strength: '1.6 mm', change: sole('uneven', 1.6), expected: care('sole-flatness'), unsettles: SOLE },
  { error: 'sole uneven', strength: '3 mm', change: sole('uneven', 3), expected: recast('sole-flatness', 'heel-on-plate', 'forefoot-twist', 'sole-bend'), unsettles: SOLE },
  { error: 'toes squeezed', strength: '0.8', change: squeezed(0.8), expected: care('toe-box'), unsettles: [] },
  { error: 'toes squeezed', strength: '1.5', change: squeezed(1.5), expected: recast('toe-box'), unsettles: [] },
  { error: 'fold beyond toes', strength: '12 mm', change: fold(12, 'under'), expected: care('beyond-toes'), unsettles: FOLDED },
  { error: 'fold beyond toes', strength: '25 mm', change: fold(25, 'over'), expected: care('beyond-toes'), unsettles: FOLDED },
  { error: 'fold beyond toes', strength: '35 mm', change: fold(35, 'under'), expected: care('beyond-toes'), unsettles: FOLDED },
  { error: 'fold beyond toes', strength: '50 mm', change: fold(50, 'over'), expected: care('beyond-toes'), unsettles: FOLDED },
  { error: 'ends too low', strength: '0 mm over the bone', rise: 0, expected: care('stops-short'), unsettles: ['forward-lean', 'rear-view'] },
  { error: 'toes open', strength: '15 mm', change: openToes(15), expected: { verdict: 'recast', codes: ['toes-closed', 'surface-made-up'], orRefused: true }, unsettles: ALL },
  { error: 'toes open', strength: '30 mm', change: openToes(30), expected: { verdict: 'recast', codes: ['toes-closed', 'surface-made-up'], orRefused: true }, unsettles: ALL },
  { error: 'patch missing', strength: '6 %', change: patch(0.06), expected: { verdict: 'care', codes: ['surface-made-up'] }, unsettles: ALL },
  { error: 'patch missing', strength: '18 %', change: patch(0.18), expected: { verdict: 'recast', codes: ['surface-made-up'], orRefused: true }, unsettles: ALL },
  { error: 'shank back and hinge ahead', strength: '1.5', onHinge: true, leanOff: -1.5, hingeOff: 1.5, expected: recast('forward-lean'), unsettles: [] },
  { error: 'leg outwards, forefoot rolled out, fold', strength: '1.5', rearViewOff: -1.5, change: (p, l, r) => ({ ...twist(1.5)?.(p, l, r), ...fold(20, 'under')?.(p, l, r) }), expected: recast('rear-view'), unsettles: [...ROLLED, ...FOLDED] },
];
