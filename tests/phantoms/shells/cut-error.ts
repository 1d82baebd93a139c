import { smoothStep } from '../surface/implicit.js';
import type { Random } from '../random.js';
import type { Flap, StripShape } from './open-cut.js';
import type { BendShare } from './opening.js';
import { slowAlong } from './slow.js';

export const CUT_KINDS = ['sound', 'gaping', 'overlapping', 'step', 'buckle', 'warp'] as const;
export type CutKind = (typeof CUT_KINDS)[number];

/** Height over the skin beside the cut, mm, outward: on which flap, how far from the cut (≥ 0), where along the spine. */
export type BesideCut = (flap: Flap, across: number, along: number) => number;

/** The shell squeezed and twisted: shares and degrees by place along the spine. */
export interface Warp {
  /** The width is multiplied by 1 − squeeze, the height in the section's plane by 1 + squeeze. */
  readonly squeeze: (along: number) => number;
  readonly twistDeg: (along: number) => number;
}

/** How a shell was closed again along its cut. */
export interface CutError {
  readonly kind: CutKind;
  /** mm of girth by which the edges stand apart, negative where they lie over each other. */
  readonly gap: (along: number) => number;
  readonly bend: BendShare;
  /** Where the flaps overlap, the one on top. */
  readonly riding: Flap;
  /** Flaps that stand higher or lower than they should, from the edge inwards: steps, folds, the riding flap. */
  readonly shelf: BesideCut;
  /** Kinks at the edges. */
  readonly lip: BesideCut;
  readonly strip: StripShape;
  readonly warp: Warp | null;
  /** The greatest gap that was drawn, mm, signed; 0 for other kinds. */
  readonly widest: number;
}

export interface CutPlan {
  readonly kind: CutKind;
  /** Greatest gap or overlap in mm, step or fold in mm, warp in per cent of the width; drawn where absent. */
  readonly size?: number;
  /** Whether a gap or overlap is widest at the instep, where a tape lies; at the instep or the top where absent. */
  readonly atInstep?: boolean;
  /** Thickness of the wall, mm: how high a flap lies that rides on the other. */
  readonly wall: number;
}

/** Along the spine: where the cut begins, the instep point, the crook and the top edge. */
export interface CutPlaces {
  readonly start: number;
  readonly instep: number;
  readonly top: number;
}

const flat: BesideCut = () => 0;
const log = (random: Random, low: number, high: number): number => low * (high / low) ** random.next();

export function drawCutError(random: Random, plan: CutPlan, places: CutPlaces): CutError {
  const sound: CutError = { kind: plan.kind, gap: () => 0, bend: () => 1, riding: random.pick([1, -1] as const), shelf: flat, lip: flat, strip: () => 0, warp: null, widest: 0 };
  if (plan.kind === 'gaping' || plan.kind === 'overlapping') {
    const width = plan.size ?? log(random, 1, 15);
    const sign = plan.kind === 'gaping' ? 1 : -1;
    const profile = alongTheCut(random, places, plan.atInstep ?? false);
    const opened = { ...sound, gap: (s: number) => sign * width * profile(s), bend: drawBend(random), widest: sign * width };
    if (sign === 1) return { ...opened, lip: drawLips(random, [0.2, 1.2], opened.gap), strip: drawStrip(random) };
    return withWornEdges(random, { ...opened, shelf: drawRiding(random, plan.wall, opened.riding, (s) => width * profile(s)) });
  }
  if (plan.kind === 'step') return withWornEdges(random, { ...sound, shelf: drawStep(random, plan.size ?? log(random, 0.5, 6), places) });
  if (plan.kind === 'buckle') return withWornEdges(random, { ...sound, shelf: drawBuckle(random, plan.size ?? random.between(1, 5), places) });
  if (plan.kind === 'warp') return { ...sound, warp: drawWarp(random, plan.size ?? random.between(3, 10), places) };
  return sound;
}

/** 0 at the toes, 1 at its greatest, at the instep or at the top; tapers steeply or gently, and wavers. */
function alongTheCut(random: Random, { start, instep, top }: CutPlaces, atInstep: boolean): (along: number) => number {
  const peak = random.chance(0.5) || atInstep ? instep + random.between(-15, atInstep ? 0 : 25) : top - random.between(0, 40);
  const taper = Math.max(40, (peak - start) * random.between(0.4, 1));
  const bow = random.between(0.7, 1.6);
  const atTop = random.between(0.35, 1);
  const waver = slowAlong(random, random.between(40, 110));
  const amount = random.between(0, 0.08);
  return (s) => {
    if (s <= start) return 0;
    const rise = smoothStep(start, start + taper, s) ** bow;
    const fall = s <= peak ? 1 : 1 - (1 - atTop) * smoothStep(peak, Math.max(peak + 30, top), s);
    return rise * fall * (1 - amount * (1 + waver(s)));
  };
}

/** Where plaster bends: evenly, at the sole, at the sides, or anywhere between. */
function drawBend(random: Random): BendShare {
  const [even, sole, sides] = [random.between(0.1, 1), random.next(), random.next()];
  const centre = random.between(0.35, 0.65);
  return (turn) => even + 2 * sole * smoothStep(0.55, 1, turn) + 2 * sides * Math.exp(-(((turn - centre) / 0.18) ** 2));
}

/** Edges that stand one over the other are chipped or smeared a little. */
function withWornEdges(random: Random, error: CutError): CutError {
  return { ...error, lip: drawLips(random, [0, 0.6], (s) => Math.abs(error.shelf(1, 0, s) - error.shelf(-1, 0, s))) };
}

/** A lip or kink of so many mm at either edge, less where the edges nearly meet: `apart` is how far they are from that, mm. */
function drawLips(random: Random, [least, most]: readonly [number, number], apart: (along: number) => number): BesideCut {
  const edges = [1, -1].map(() => ({ height: random.pick([1, 1, -1]) * random.between(least, most), width: random.between(1.5, 5), waver: slowAlong(random, random.between(20, 70)), sharp: random.between(1, 2) }));
  return (flap, across, along) => {
    const { height, width, waver, sharp } = edges[flap === 1 ? 0 : 1];
    return height * (0.7 + 0.3 * waver(along)) * Math.exp(-((across / width) ** sharp)) * smoothStep(0, 2.5, apart(along));
  };
}

/** The strip of plaster over the opening: flat or bulging by up to 1.5 mm, the crown anywhere near its middle. */
function drawStrip(random: Random): StripShape {
  const bulge = random.chance(0.3) ? 0 : random.between(0.1, 1.5);
  const waver = slowAlong(random, random.between(25, 80));
  const crown = random.between(0.8, 1.25);
  return (along, share, width) => Math.min(bulge, 0.2 * width) * (0.75 + 0.25 * waver(along)) * 4 * share ** crown * (1 - share ** crown);
}

/** From the edge inwards: 1, back to 0 after `reach` mm, more or less bowed. */
const comingBack = (reach: number, bow: number) => (across: number): number => Math.max(0, 1 - smoothStep(0, reach, across)) ** bow;

/** The riding flap lifted, and the other pressed in, by 0.6 to 1.0 of the wall together where they overlap by more than a millimetre. */
function drawRiding(random: Random, wall: number, riding: Flap, overlap: (along: number) => number): BesideCut {
  const height = wall * random.between(0.6, 1);
  const lifted = random.between(0.55, 1);
  const [up, down] = [comingBack(random.between(15, 40), random.between(0.7, 1.5)), comingBack(random.between(15, 40), random.between(0.7, 1.5))];
  const waver = slowAlong(random, random.between(40, 100));
  return (flap, across, along) => {
    const h = height * smoothStep(0.2, 2.2, overlap(along)) * (0.92 + 0.08 * waver(along));
    return flap === riding ? lifted * h * up(across) : -(1 - lifted) * h * down(across);
  };
}

/** One flap higher than the other, over the whole cut or a part of it. */
function drawStep(random: Random, size: number, { start, top }: CutPlaces): BesideCut {
  const high = random.pick([1, -1] as const);
  const share = random.chance(0.5) ? 1 : random.between(0, 1);
  const length = top - start;
  const whole = random.chance(0.4);
  const from = whole ? start : start + random.between(0, 0.4) * length;
  const to = whole || random.chance(0.4) ? top + 60 : start + random.between(0.65, 0.95) * length;
  const [rise, fall] = [random.between(15, 45), random.between(15, 45)];
  const [up, down] = [comingBack(random.between(15, 50), random.between(0.7, 1.5)), comingBack(random.between(15, 50), random.between(0.7, 1.5))];
  const waver = slowAlong(random, random.between(40, 100));
  return (flap, across, along) => {
    const h = size * smoothStep(from, from + rise, along) * (1 - smoothStep(to - fall, to, along)) * (0.92 + 0.08 * waver(along));
    return flap === high ? share * h * up(across) : -(1 - share) * h * down(across);
  };
}

/** A fold of one flap beside the cut, 25 to 60 mm from crest to crest, out or in. */
function drawBuckle(random: Random, size: number, { start, top }: CutPlaces): BesideCut {
  const folded = random.pick([1, -1] as const);
  const wave = random.between(25, 60);
  const centre = random.between(0, 0.55) * wave;
  const height = random.pick([1, -1]) * size;
  const length = random.between(50, 130);
  const middle = random.between(start + 0.3 * length, top - 0.3 * length);
  const slant = random.between(-0.25, 0.25);
  return (flap, across, along) => {
    if (flap !== folded) return 0;
    const u = (across - centre - slant * (along - middle)) / wave;
    const v = (along - middle) / length;
    if (Math.abs(v) > 0.5 || Math.abs(u) > 1) return 0;
    const window = (1 - smoothStep(0.2, 0.5, Math.abs(v))) * smoothStep(start, start + 20, along);
    return height * Math.cos(2 * Math.PI * u) * (1 - smoothStep(0.35, 1, Math.abs(u))) * window;
  };
}

/** Leg part and forefoot pressed oval, each its own way, and a twist of some degrees from end to end. */
function drawWarp(random: Random, percent: number, { start, instep, top }: CutPlaces): Warp {
  const [leg, fore] = [random.pick([1, 1, -1]) * percent, random.pick([1, -1]) * percent * random.between(0.3, 0.8)];
  const twist = random.pick([1, -1]) * random.between(1, 6);
  return {
    squeeze: (s) => (leg * smoothStep(instep, top, s) + fore * (1 - smoothStep(start - 30, instep, s))) / 100,
    twistDeg: (s) => twist * (smoothStep(start - 40, top, s) - smoothStep(start - 40, top, instep)),
  };
}
