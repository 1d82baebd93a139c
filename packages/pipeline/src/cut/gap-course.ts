import type { CutStation } from './cut-course.js';
import type { Added, GapWindow } from './section-shapes.js';
import { explainedBy, gapWindow, leftByFoot, leftWhere, likelier, squares } from './section-shapes.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';
import { gapShapes, lineShapes, stepShape } from './two-edges.js';
import { wayBack } from './way-back.js';
import { withoutBest } from './without-best.js';

export const GAP_COURSE = {
  /** Every so many stations are looked at, and every so many samples across. */
  every: 2,
  grid: 2,
  /** Widths, samples, and how far the middle may lie beside the line that was found first: that may be either edge. */
  narrowest: 6,
  widest: 40,
  aside: 24,
  /** Where two edges explain less than this more than the foot alone, they count so much; nowhere do they count less than the least. */
  faint: 4,
  faintGain: -1,
  least: -6,
  /** A single line is sought this many samples beyond the edges, too. */
  beyond: 4,
  /** What it costs to begin a gap, by each mm of its width there, and to end it. */
  begins: 6,
  beginsWide: 1,
  ends: 10,
  /** Steps of the grid that the middle may stray by, what one costs, squared, and what a step of the width costs. */
  stray: 2,
  strayCost: 0.3,
  change: 1,
  /**
   * How much better two edges must explain the gap's course than a single line of whatever shape, and how much better at
   * least than a single step, each without the stretch that bears them out best: differences of log likelihoods, and those
   * stretches in stations looked at (generated casts of the tuning range).
   */
  surerThanLine: 25,
  stretch: 15,
  surerThanStep: -5,
  stepStretch: 10,
} as const;

/** The edges of a gap at one station of a course. */
export interface GapPlace {
  /** Index in the course. */
  readonly index: number;
  /** Samples of the map. */
  readonly low: number;
  readonly high: number;
}

interface Width {
  readonly samples: number;
  readonly window: GapWindow;
  readonly gap: readonly Added[];
  readonly line: readonly Added[];
  readonly step: readonly Added[];
}

function widthOf(samples: number): Width {
  const { beyond, grid } = GAP_COURSE;
  const window = gapWindow(samples);
  const half = samples / 2;
  const places = Array.from({ length: samples + 2 * beyond + 1 }, (_, k) => k - half - beyond);
  return {
    samples, window,
    gap: gapShapes(window, -half, half),
    line: places.filter((_, k) => k % grid === 0).flatMap((c) => lineShapes(window, c)),
    step: places.map((c) => stepShape(window, c)),
  };
}

const WIDTHS = (GAP_COURSE.widest - GAP_COURSE.narrowest) / GAP_COURSE.grid + 1;
const REACH = GAP_COURSE.aside / GAP_COURSE.grid;
const ACROSS = 2 * REACH + 1;
/** States of a station: a middle and a width each, and no gap. */
const NONE = ACROSS * WIDTHS;

let made: readonly Width[] | null = null;
/** The widths, narrowest first. They take a tenth of a second to make, which no program needs that reads no cut. */
const widths = (): readonly Width[] => (made ??= Array.from({ length: WIDTHS }, (_, i) => widthOf(GAP_COURSE.narrowest + GAP_COURSE.grid * i)));

/**
 * Where a gap runs along a cut, sought as one: at each station two edges that stand apart are weighed against a single line
 * of any shape, and their middle and width change slowly.
 *
 * @returns null where it is not sure that there are two edges
 */
export function gapCourse(map: TopMap, course: readonly CutStation[]): GapPlace[] | null {
  const looked = course.map((_, i) => i).filter((i) => i % GAP_COURSE.every === 0);
  const gains = looked.map((i) => gainsAt(map, course[i]));
  const states = likeliest(gains, looked.map((i) => course[i].sample));
  const gain = states.map((state, n) => (state === NONE ? 0 : gains[n][state]));
  if (withoutBest(gain, GAP_COURSE.stretch) < GAP_COURSE.surerThanLine) return null;
  const places = looked.flatMap((index, n) => (states[n] === NONE ? [] : [placeOf(index, states[n], course)]));
  const overStep = looked.map((i, n) => (states[n] === NONE ? 0 : Math.min(gain[n], gainOverStep(map, course[i], states[n]))));
  return withoutBest(overStep, GAP_COURSE.stepStretch) < GAP_COURSE.surerThanStep ? null : places;
}

const middleOf = (sample: number, state: number): number => sample + GAP_COURSE.grid * (Math.floor(state / WIDTHS) - REACH);

/** How wide the gap of a state is, samples. */
const samplesOf = (state: number): number => GAP_COURSE.narrowest + GAP_COURSE.grid * (state % WIDTHS);

function placeOf(index: number, state: number, course: readonly CutStation[]): GapPlace {
  const samples = samplesOf(state);
  const low = middleOf(course[index].sample, state) - samples / 2;
  return { index, low, high: low + samples };
}

/** How much better two edges explain the section than one line, for each state. */
function gainsAt(map: TopMap, { station, sample }: CutStation): Float64Array {
  const gains = new Float64Array(NONE + 1).fill(-Infinity);
  gains[NONE] = 0;
  for (let state = 0; state < NONE; state++) {
    const { window, gap, line } = widths()[state % WIDTHS];
    const rest = leftByFoot(map, station, middleOf(sample, state), window);
    if (rest === null) continue;
    const { faint, faintGain, least } = GAP_COURSE;
    const total = squares(rest);
    const two = total - explainedBy(gap, rest);
    if (likelier(two, total, rest.length) < faint) {
      gains[state] = faintGain;
      continue;
    }
    // Lines that explain the section so much better than two edges need not be told apart.
    const enough = total - leftWhere(two, least, rest.length);
    const one = total - explainedBy(line, rest, enough);
    gains[state] = Math.max(least, likelier(two, one, rest.length));
  }
  return gains;
}

function gainOverStep(map: TopMap, { station, sample }: CutStation, state: number): number {
  const { window, gap, step } = widths()[state % WIDTHS];
  const rest = leftByFoot(map, station, middleOf(sample, state), window);
  if (rest === null) return 0;
  const total = squares(rest);
  return likelier(total - explainedBy(gap, rest), total - explainedBy(step, rest), rest.length);
}

/** The states along the course that together gain most. */
function likeliest(gains: readonly Float64Array[], samples: readonly number[]): number[] {
  const d = GAP_COURSE;
  const beginning = (state: number): number => d.begins + d.beginsWide * samplesOf(state) * TOP_MAP.step;
  const from: Int32Array[] = [];
  let best = gains[0].map((gain, state) => (state === NONE ? 0 : gain - beginning(state)));
  for (let n = 1; n < gains.length; n++) {
    const next = new Float64Array(NONE + 1).fill(-Infinity);
    const came = new Int32Array(NONE + 1).fill(NONE);
    const shift = Math.round((samples[n] - samples[n - 1]) / d.grid);
    let open = NONE;
    for (let state = 0; state < NONE; state++) if (best[state] > best[open]) open = state;
    const ended = best[open] - (open === NONE ? 0 : d.ends);
    next[NONE] = Math.max(best[NONE], ended);
    came[NONE] = best[NONE] >= ended ? NONE : open;
    for (let state = 0; state < NONE; state++) {
      if (gains[n][state] === -Infinity) continue;
      const across = Math.floor(state / WIDTHS) + shift;
      const width = state % WIDTHS;
      let most = best[NONE] - beginning(state);
      for (let a = Math.max(0, across - d.stray); a <= Math.min(ACROSS - 1, across + d.stray); a++) {
        for (let w = Math.max(0, width - 1); w <= Math.min(WIDTHS - 1, width + 1); w++) {
          const value = best[a * WIDTHS + w] - d.strayCost * (a - across) ** 2 - (w === width ? 0 : d.change);
          if (value <= most) continue;
          most = value;
          came[state] = a * WIDTHS + w;
        }
      }
      next[state] = most + gains[n][state];
    }
    best = next;
    from.push(came);
  }
  let last = NONE;
  for (let state = 0; state < NONE; state++) if (best[state] > best[last]) last = state;
  return wayBack(from, last);
}
