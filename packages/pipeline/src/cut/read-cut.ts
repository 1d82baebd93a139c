import type { Point } from '@cast-to-last/foot/landmarks';
import { LINES } from './cross-shapes.js';
import type { CutStation } from './cut-course.js';
import { cutCourse, evidenceAt, evidenceMap } from './cut-course.js';
import { flapStep } from './flap-step.js';
import { gapWidth } from './gap-width.js';
import { secondLine } from './second-line.js';
import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

export const READ_CUT = {
  /** Mean gain from which a cut is seen at all. */
  seen: 4,
  /** A step counts by its middle height over this many stations, and stands within so many samples of the course. */
  stations: 7,
  beside: 6,
  /** The lines at a gap's edges stand so much farther apart than the edges, mm: lips stand on the flaps (generated casts of the tuning range). */
  lips: 1.6,
  /** Over so many stations at least a gap must show by itself; else it is none, and a faint second line is sought. */
  gapStations: 16,
  /** A flap that stands higher than this over so many stations rides on the other, mm. */
  rides: 2.3,
  ridesOver: 8,
  /** Before a gap is wide enough to be told from a seam it narrows at this rate at least, mm to the mm. */
  leastTaper: 0.12,
  /** Stations over which the rate is read. */
  taperStations: 10,
} as const;

/** A station of a cut that was read. */
export interface ReadStation {
  /** Middle of the cut, in the map's frame. */
  readonly at: Point;
  /** Where the section is steepest near it: the edge of a flap that stands over the other. */
  readonly edge: Point;
  /** How far the flaps stand apart, mm; 0 where none or a mere seam is seen. */
  readonly gap: number;
  /** How much higher the +y flap stands, mm; null where it cannot be seen, as where the flaps stand apart. */
  readonly step: number | null;
}

/** The cut along the top of a foot, from the toe base up; null where no line is seen there. */
export function readCut(map: TopMap): ReadStation[] | null {
  const evidence = evidenceMap(map);
  const found = cutCourse(map, evidence);
  const course = withSecondLine(map, found);
  if (course.length < READ_CUT.stations) return null;
  if (course.reduce((sum, { gain }) => sum + gain, 0) / course.length < READ_CUT.seen) return null;
  const edges = course.map(({ station, sample }) => steepest(evidence, station, sample));
  const steps = course.map(({ station, sample, shape }, i) => {
    if (typeof shape !== 'number') return flapStep(map, station, edges[i]);
    const seen = edgesOf(sample, shape).flatMap((edge) => near(edge).map((j) => flapStep(map, station, j) ?? 0));
    return seen.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  });
  const stands = steps.map((_, i) => middle(steps, i));
  // Where one flap rides on the other, what lies beside its edge is no second edge.
  const rides = stands.filter((height) => Math.abs(height ?? 0) > READ_CUT.rides).length >= READ_CUT.ridesOver;
  const widths = course.map(({ station, sample, shape }) => {
    if (typeof shape !== 'number' || rides) return null;
    return Math.max(TOP_MAP.step, (gapWidth(map, station, ...edgesOf(sample, shape)) ?? shape) - READ_CUT.lips);
  });
  const gaps = tapered(widths.map((width, i) => (width === null ? 0 : (middle(widths, i) ?? 0))));
  const pointAt = (station: number, sample: number): Point => {
    const q = 3 * (station * ACROSS + sample);
    return [map.points[q], map.points[q + 1], map.points[q + 2]];
  };
  return course.map(({ station, sample }, i) => ({
    at: pointAt(station, sample), edge: pointAt(station, edges[i]), gap: gaps[i], step: gaps[i] > 0 ? null : stands[i],
  }));
}

/** The course with what a faint second line beside it makes of it, where it shows one line alone. */
function withSecondLine(map: TopMap, course: readonly CutStation[]): readonly CutStation[] {
  if (course.filter(({ shape }) => typeof shape === 'number').length >= READ_CUT.gapStations) return course;
  const single = course.map((at): CutStation => (typeof at.shape === 'number' ? { ...at, shape: 'seam' } : at));
  const apart = secondLine(map, single);
  return single.map((at, i) => (apart[i] === 0 ? at : { ...at, sample: at.sample + Math.trunc(apart[i] / 2), shape: Math.abs(apart[i]) * TOP_MAP.step }));
}

/** Samples of the two edges of a gap of a width in mm round a sample. */
function edgesOf(sample: number, width: number): [number, number] {
  const apart = Math.round(width / TOP_MAP.step);
  const low = sample - (apart >> 1);
  return [low, low + apart];
}

/** The samples within reach of one. */
const near = (sample: number): number[] => Array.from({ length: 2 * READ_CUT.beside + 1 }, (_, i) => sample - READ_CUT.beside + i);

/** The sample near the course that looks most like a step. */
function steepest(evidence: Float64Array, station: number, sample: number): number {
  let best = sample;
  const looksStep = (j: number): number => evidenceAt(evidence, station, j, LINES.step);
  for (const j of near(sample)) if (looksStep(j) > looksStep(best)) best = j;
  return best;
}

/** Width of the gap at each station; where a gap begins behind a seam it is carried on towards the seam as it narrows. */
function tapered(widths: readonly number[]): number[] {
  const smooth = widths.map((w, i) => {
    if (w === 0) return 0;
    const near = widths.slice(Math.max(0, i - 3), i + 4).filter((other) => other > 0);
    return near.reduce((sum, x) => sum + x, 0) / near.length;
  });
  for (const turn of [1, -1]) {
    for (let i = turn > 0 ? 1 : widths.length - 2; i >= 0 && i < widths.length; i += turn) {
      const before = i - turn;
      if (widths[i] === 0 || widths[before] > 0) continue;
      const ahead = i + turn * READ_CUT.taperStations;
      const grown = smooth[ahead] > 0 ? (smooth[ahead] - smooth[i]) / (READ_CUT.taperStations * TOP_MAP.station) : 0;
      const rate = Math.max(READ_CUT.leastTaper, grown);
      for (let j = before, n = 1; j >= 0 && j < widths.length && widths[j] === 0; j -= turn, n++) {
        smooth[j] = Math.max(smooth[j], smooth[i] - rate * TOP_MAP.station * n);
      }
    }
  }
  return smooth;
}

/** The middle value of those near index i. */
function middle(values: readonly (number | null)[], i: number): number | null {
  const half = (READ_CUT.stations - 1) / 2;
  const near = values.slice(Math.max(0, i - half), i + half + 1).filter((x) => x !== null).sort((a, b) => a - b);
  return near.length === 0 ? null : near[near.length >> 1];
}
