import type { Point } from '@cast-to-last/foot/landmarks';
import { carryOn } from './carry-on.js';
import { LINES } from './cross-shapes.js';
import type { CutStation } from './cut-course.js';
import { cutCourse, evidenceAt, evidenceMap } from './cut-course.js';
import { flapEdge } from './flap-edge.js';
import { flapStep } from './flap-step.js';
import { GAP_ALONG, edgesOf, gapAlong } from './gap-along.js';
import { GAP_COURSE, gapCourse } from './gap-course.js';
import { gapEdges } from './gap-edges.js';
import type { EdgesAt } from './lines-beside.js';
import { clearnessOf } from './lines-beside.js';
import type { MadeUpNear } from './made-up.js';
import { raisedStrip } from './raised-strip.js';
import { secondLine } from './second-line.js';
import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

export const READ_CUT = {
  /** Mean gain from which a cut is seen at all. */
  seen: 4,
  /**
   * How many times as clear as the lines beside it a cut's line must be, and a gap's fainter edge: gaps have 1.7 and more, what
   * looks like one in a weave, ripples or brush marks seldom has over 1.5 (generated casts of the tuning range, textured or not).
   */
  clear: 1.6,
  /** Lines beside the cut that are clearer than this hide the edges of most gaps: without such textures there are none (the same casts). */
  hides: 4.8,
  /** A step counts by its middle height over this many stations, and stands within so many samples of the course. */
  stations: 7,
  beside: 6,
  /** No seam's own ridge looks like a step higher than this, mm. */
  plain: 1.5,
  /** A flap that stands higher than this over so many stations rides on the other, mm. */
  rides: 2.3,
  ridesOver: 8,
} as const;

/** A station of a cut that was read. */
export interface ReadStation {
  /** Middle of the cut, in the map's frame. */
  readonly at: Point;
  /** Where the section is steepest near it: the edge of a flap that stands over the other. */
  readonly edge: Point;
  /** How far the flaps stand apart, mm; 0 where none or a mere seam is seen. */
  readonly gap: number;
  /** Whether the gap was carried on to here from the parts of the course where it shows. */
  readonly carried: boolean;
  /** Whether two lines show here that may be the edges of a narrow gap as well as the two sides of a seam. */
  readonly doubtful: boolean;
  /** How much higher the +y flap stands, mm; null where it cannot be seen, as where the flaps stand apart. */
  readonly step: number | null;
  /** Whether the cast's own texture shows lines there as clear as a cut's, so that nothing of it is told. */
  readonly hidden: boolean;
  /** Whether two edges explain the sections there as those of a gap would, but are no clearer than that texture. */
  readonly mayGape: boolean;
  /** Whether repair made much of the surface there, so that nothing of this was seen. */
  readonly madeUp: boolean;
}

/** The cut along the top of a foot, from the toe base up; null where no line is seen there. */
export function readCut(map: TopMap, isMadeUp: MadeUpNear): ReadStation[] | null {
  const evidence = evidenceMap(map);
  const found = cutCourse(map, evidence);
  if (found.length < READ_CUT.stations) return null;
  if (found.reduce((sum, { gain }) => sum + gain, 0) / found.length < READ_CUT.seen) return null;
  const filled = filledUp(map, found);
  if (filled !== null) return stationsOf(map, isMadeUp, filled, () => false, () => false);
  const sure = apartOrRiding(map, evidence, found) ?? apartOrRiding(map, evidence, withSecondLine(map, found)) ?? apartAsOne(map, evidence, found);
  if (sure !== null && isApart(sure)) {
    const { low, high, beside } = clearnessOf(evidence, gapsOf(sure));
    if (beside <= READ_CUT.hides && Math.min(low, high) >= READ_CUT.clear * beside) return stationsOf(map, isMadeUp, sure, () => false, () => false);
  }
  const riding = sure === null || isApart(sure) ? null : sure;
  const shown = riding ?? together(map, evidence, found);
  const { low, high, beside } = clearnessOf(evidence, linesOf(shown));
  const isClear = Math.max(low, high) >= READ_CUT.clear * beside;
  const likeGap = riding === null && sure !== null ? widthsOf(sure) : null;
  // A flap that rides on the other shows whatever the texture.
  const hides = beside > READ_CUT.hides && (riding === null || !isClear);
  const mayGape = (i: number): boolean => likeGap !== null && likeGap[i] > 0;
  return stationsOf(map, isMadeUp, isClear ? shown : { ...shown, stands: shown.stands.map(() => null) }, (i) => hides || mayGape(i), mayGape);
}

const isApart = ({ widths }: Shown): boolean => widths.some((width) => width !== null);

/** Where the line of the course and the edge of a flap that rides on the other lie on the map. */
const linesOf = ({ course, edges }: Shown): EdgesAt[] =>
  course.map(({ station, sample }, i) => ({ station, low: Math.min(sample, edges[i]), high: Math.max(sample, edges[i]) }));

/** Where the edges of a gap lie on the map, for each station that shows it. */
const gapsOf = ({ course, widths }: Shown): EdgesAt[] =>
  course.flatMap(({ station, sample }, i) => {
    const half = (widths[i] ?? 0) / 2 / TOP_MAP.step;
    return half === 0 ? [] : [{ station, low: sample - half, high: sample + half }];
  });

/** The width of the gap at each station, mm, evened and carried on; 0 where there is none. */
const widthsOf = ({ widths }: Shown): number[] => carryOn(widths.map((width, i) => (width === null ? 0 : (middle(widths, i) ?? 0))));

function stationsOf(map: TopMap, isMadeUp: MadeUpNear, shown: Shown, isHidden: (i: number) => boolean, mayGape: (i: number) => boolean): ReadStation[] {
  const { course, widths, edges, stands, doubtful } = shown;
  const gaps = widthsOf(shown);
  const first = widths.findIndex((width) => width !== null);
  const last = widths.findLastIndex((width) => width !== null);
  const pointAt = (station: number, sample: number): Point => {
    const q = 3 * (station * ACROSS + sample);
    return [map.points[q], map.points[q + 1], map.points[q + 2]];
  };
  return course.map(({ station, sample }, i) => {
    const at = pointAt(station, sample);
    return {
      at, edge: pointAt(station, edges[i]), gap: gaps[i], carried: gaps[i] > 0 && (i < first || i > last), doubtful: doubtful[i],
      step: gaps[i] > 0 ? null : stands[i], hidden: isHidden(i), mayGape: mayGape(i), madeUp: isMadeUp(at, gaps[i]),
    };
  });
}

interface Shown {
  readonly course: readonly CutStation[];
  /** Width of the gap at each station, mm; null where there is none. */
  readonly widths: readonly (number | null)[];
  /** Sample of the edge of a flap that stands over the other. */
  readonly edges: readonly number[];
  /** How much higher the +y flap stands, mm. */
  readonly stands: readonly (number | null)[];
  readonly doubtful: readonly boolean[];
}

/** The course as one along a gap that plaster filled up to the bandage over it; null where it did not. */
function filledUp(map: TopMap, found: readonly CutStation[]): Shown | null {
  const strips = raisedStrip(map, found);
  if (strips === null) return null;
  const course = found.map((at, i) => ({ ...at, sample: strips[i]?.sample ?? at.sample }));
  return {
    course, edges: course.map(({ sample }) => sample), widths: strips.map((strip) => strip?.width ?? null), stands: course.map(() => null),
    // Where the strip runs out a narrow gap may still lie.
    doubtful: strips.map((strip) => strip === null),
  };
}

/** The course as one along which the flaps stand apart, or one rides on the other; null where neither is sure. */
function apartOrRiding(map: TopMap, evidence: Float64Array, course: readonly CutStation[]): Shown | null {
  const shown = { course, edges: course.map(({ station, sample }) => steepest(evidence, station, sample)), doubtful: course.map(() => false) };
  const steps = course.map(({ station, sample, shape }, i) => {
    return typeof shape === 'number' ? highest(map, station, edgesOf(sample, shape).flatMap(near)) : stepAt(map, station, shown.edges[i]);
  });
  const stands = steps.map((_, i) => middle(steps, i));
  // Where one flap rides on the other, what lies beside its edge is no second edge.
  if (stands.filter((height) => Math.abs(height ?? 0) > READ_CUT.rides).length >= READ_CUT.ridesOver) {
    return { ...shown, stands, edges: flapEdge(map, course, stands), widths: course.map(() => null) };
  }
  const widths = gapAlong(map, course);
  return widths === null ? null : { ...shown, stands, widths };
}

/** The course as one along a gap whose edges show only where its whole length is looked at; null where none is sure. */
function apartAsOne(map: TopMap, evidence: Float64Array, found: readonly CutStation[]): Shown | null {
  const places = gapCourse(map, found);
  if (places === null) return null;
  const course = [...found];
  const widths: (number | null)[] = found.map(() => null);
  gapEdges(map, found, places).forEach((place, n, all) => {
    const before = n > 0 && place.index - all[n - 1].index <= GAP_COURSE.every ? all[n - 1] : place;
    // The stations that were passed over lie between two that were looked at.
    for (let index = before.index; index <= place.index; index++) {
      const share = place === before ? 0 : (index - before.index) / (place.index - before.index);
      const low = before.low + share * (place.low - before.low);
      const high = before.high + share * (place.high - before.high);
      widths[index] = (high - low) * TOP_MAP.step;
      course[index] = { ...found[index], sample: Math.round((low + high) / 2) };
    }
  });
  const edges = course.map(({ station, sample }) => steepest(evidence, station, sample));
  return { course, widths, edges, stands: course.map(() => null), doubtful: course.map(() => false) };
}

/** The course as one along which the flaps lie together, as far as can be told. */
function together(map: TopMap, evidence: Float64Array, found: readonly CutStation[]): Shown {
  const course = found.map(asSeam);
  const edges = course.map(({ station, sample }) => steepest(evidence, station, sample));
  const steps = course.map(({ station }, i) => stepAt(map, station, edges[i]));
  const looksApart = found.map(({ shape }) => typeof shape === 'number');
  const doubtful = looksApart.filter(Boolean).length < GAP_ALONG.stations ? found.map(() => false) : looksApart;
  return { course, widths: course.map(() => null), edges, stands: steps.map((_, i) => middle(steps, i)), doubtful };
}

/** The step at the edge of a flap. A high one has a long face; its edge is where the flaps stand farthest apart. */
function stepAt(map: TopMap, station: number, edge: number): number | null {
  const height = flapStep(map, station, edge);
  return height === null || Math.abs(height) < READ_CUT.plain ? height : highest(map, station, near(edge));
}

const highest = (map: TopMap, station: number, samples: readonly number[]): number =>
  samples.map((j) => flapStep(map, station, j) ?? 0).reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));

const asSeam = (at: CutStation): CutStation => (typeof at.shape === 'number' ? { ...at, shape: 'seam' } : at);

/** The course with what a faint second line beside it makes of it. */
function withSecondLine(map: TopMap, found: readonly CutStation[]): readonly CutStation[] {
  const single = found.map(asSeam);
  const apart = secondLine(map, single);
  return single.map((at, i) => (apart[i] === 0 ? at : { ...at, sample: at.sample + Math.trunc(apart[i] / 2), shape: Math.abs(apart[i]) * TOP_MAP.step }));
}

/** The samples within reach of one. */
const near = (sample: number): number[] => Array.from({ length: 2 * READ_CUT.beside + 1 }, (_, i) => sample - READ_CUT.beside + i);

/** The sample near the course that looks most like a step. */
function steepest(evidence: Float64Array, station: number, sample: number): number {
  let best = sample;
  for (let j = sample - READ_CUT.beside; j <= sample + READ_CUT.beside; j++) {
    if (evidenceAt(evidence, station, j, LINES.step) > evidenceAt(evidence, station, best, LINES.step)) best = j;
  }
  return best;
}

/** The middle value of those near index i. */
function middle(values: readonly (number | null)[], i: number): number | null {
  const half = (READ_CUT.stations - 1) / 2;
  const near = values.slice(Math.max(0, i - half), i + half + 1).filter((x) => x !== null).sort((a, b) => a - b);
  return near.length === 0 ? null : near[near.length >> 1];
}
