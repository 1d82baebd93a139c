import { CENTRES, CROSS_SHAPES, LINES, SAMPLES, evidenceOf, heightsRound } from './cross-shapes.js';
import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

export const CUT_COURSE = {
  /** Widths of gaps that are told from a seam, mm. */
  narrowest: 4,
  widest: 20,
  /** The middle of a cut lies within this many samples of the middle of the map. */
  aside: 40,
  /** Samples that the course may stray by from one station to the next, and what a sample costs, squared. */
  stray: 3,
  strayCost: 0.35,
  /** What a gap must explain more than a seam at each station: it has two lines to look for. */
  gapCost: 4.5,
  /** Gaps from this width on may show any line as their edges, mm; in narrower ones the two would be taken for one another. */
  anyLineFrom: 9,
  /** What a mm of a gap's width costs at the front end: a cut begins there, and its flaps are held together. */
  wideFront: 4,
  /** What it costs to change from seam to step and back, from either to a narrow gap and back, and a gap's width by 1 mm. */
  change: 3,
  open: 6,
  narrow: 3,
  wider: 2,
  narrower: 1.5,
} as const;

/** What a section across the cut shows. A gap is named by its width, mm. */
export type CrossShape = 'seam' | 'step' | number;

/** One station of the course. */
export interface CutStation {
  readonly station: number;
  /** Sample of the map over which the middle of the shape stands. */
  readonly sample: number;
  readonly shape: CrossShape;
  /** How much better the shape explains the section than the foot alone, a difference of log likelihoods. */
  readonly gain: number;
}

const SHAPES: readonly CrossShape[] = [
  'seam', 'step', ...Array.from({ length: CUT_COURSE.widest - CUT_COURSE.narrowest + 1 }, (_, i) => CUT_COURSE.narrowest + i),
];
const COUNT = SHAPES.length;
/** Index in SHAPES of the narrowest gap. */
const GAP = 2;
const WIDE = 2 * CUT_COURSE.aside + 1;
const MIDDLE = (ACROSS - 1) / 2;

/**
 * Evidence for LINES at each sample of each station; −Infinity where the window is not whole.
 *
 * @param asked whether the evidence at a place is asked for; elsewhere it is −Infinity
 */
export function evidenceMap(map: TopMap, asked: (station: number, sample: number) => boolean = () => true): Float64Array {
  const out = new Float64Array(map.stations * ACROSS * LINES.count).fill(-Infinity);
  const heights = new Float64Array(SAMPLES);
  for (let s = 0; s < map.stations; s++) {
    for (let j = CENTRES.first; j <= CENTRES.last; j++) {
      const from = (s * ACROSS + j) * LINES.count;
      if (asked(s, j) && heightsRound(map, s, j, heights)) evidenceOf(heights, out.subarray(from, from + LINES.count));
    }
  }
  return out;
}

export const evidenceAt = (evidence: Float64Array, station: number, sample: number, line: number): number =>
  evidence[(station * ACROSS + sample) * LINES.count + line];

/** How much each shape explains over each place of a station. */
function gainsOf(evidence: Float64Array, station: number, out: Float64Array): void {
  const at = (j: number, line: number): number => evidenceAt(evidence, station, j, line);
  const any = new Float64Array(ACROSS);
  for (let j = 0; j < ACROSS; j++) any[j] = Math.max(at(j, LINES.seam), at(j, LINES.step));
  for (let c = 0; c < WIDE; c++) {
    const j = MIDDLE - CUT_COURSE.aside + c;
    out[c * COUNT] = at(j, LINES.seam);
    out[c * COUNT + 1] = at(j, LINES.step);
    for (let m = GAP; m < COUNT; m++) {
      const width = SHAPES[m] as number;
      const apart = width / TOP_MAP.step;
      const left = j - Math.floor(apart / 2);
      const line = EDGE_LINE[m];
      let both = at(left, line) + at(left + apart, line + 1);
      if (width >= CUT_COURSE.anyLineFrom) {
        // A strong line in the middle shows a little to both sides of it; between the edges of a gap there is none.
        let between = 0;
        for (let k = left + Math.ceil(0.3 * apart); k <= left + 0.7 * apart; k++) between = Math.max(between, any[k]);
        both = Math.max(both, any[left] + any[left + apart] - between);
      }
      out[c * COUNT + m] = both - CUT_COURSE.gapCost;
    }
  }
}

/** The line of LINES that looks as far into the gap as it is wide enough. */
function edgeLine(width: number): number {
  let k = 0;
  while (k + 1 < CROSS_SHAPES.insides.length && CROSS_SHAPES.insides[k + 1] < width) k++;
  return LINES.edges + 2 * k;
}

/** The line of a gap's −y edge for each of SHAPES; that of its +y edge follows it. */
const EDGE_LINE = Int32Array.from(SHAPES, (shape) => (typeof shape === 'number' ? edgeLine(shape) : -1));

/** The likeliest course of a cut from the first station on, with what it shows where; empty where the map has no stations. */
export function cutCourse(map: TopMap, evidence: Float64Array): CutStation[] {
  const states = WIDE * COUNT;
  const gains = new Float64Array(map.stations * states);
  let stations = 0;
  for (; stations < map.stations; stations++) {
    const own = gains.subarray(stations * states, (stations + 1) * states);
    gainsOf(evidence, stations, own);
    if (!own.some((gain) => gain > -Infinity)) break;
  }
  if (stations === 0) return [];
  const from = new Int32Array(stations * states).fill(-1);
  let best = gains.slice(0, states).map((gain, i) => (i % COUNT < GAP ? gain : gain - CUT_COURSE.wideFront * (SHAPES[i % COUNT] as number)));
  for (let s = 1; s < stations; s++) {
    const { value, origin } = strayed(best);
    const next = new Float64Array(states).fill(-Infinity);
    for (let c = 0; c < WIDE; c++) {
      for (let m = 0; m < COUNT; m++) {
        const at = c * COUNT + m;
        if (gains[s * states + at] === -Infinity) continue;
        let most = value[at];
        let came = m;
        for (const { shape, cost } of CHANGES[m]) {
          if (value[c * COUNT + shape] - cost <= most) continue;
          most = value[c * COUNT + shape] - cost;
          came = shape;
        }
        if (most === -Infinity) continue;
        next[at] = most + gains[s * states + at];
        from[s * states + at] = origin[c * COUNT + came];
      }
    }
    best = next;
  }
  let at = 0;
  for (let i = 1; i < states; i++) if (best[i] > best[at]) at = i;
  const course: CutStation[] = [];
  for (let s = stations - 1; s >= 0 && at >= 0; s--) {
    course.push({ station: s, sample: MIDDLE - CUT_COURSE.aside + Math.floor(at / COUNT), shape: SHAPES[at % COUNT], gain: gains[s * states + at] });
    at = from[s * states + at];
  }
  return course.reverse();
}

/** The best of each state over the places that the course may come from, and the state that it is. */
function strayed(best: Float64Array): { value: Float64Array; origin: Int32Array } {
  const value = new Float64Array(best.length).fill(-Infinity);
  const origin = new Int32Array(best.length).fill(-1);
  for (let c = 0; c < WIDE; c++) {
    for (let d = -CUT_COURSE.stray; d <= CUT_COURSE.stray; d++) {
      if (c + d < 0 || c + d >= WIDE) continue;
      const cost = CUT_COURSE.strayCost * d * d;
      for (let m = 0; m < COUNT; m++) {
        const there = (c + d) * COUNT + m;
        if (best[there] - cost <= value[c * COUNT + m]) continue;
        value[c * COUNT + m] = best[there] - cost;
        origin[c * COUNT + m] = there;
      }
    }
  }
  return { value, origin };
}

/** The shapes that may come before shape m, and what the change costs. */
function changesTo(m: number): readonly { readonly shape: number; readonly cost: number }[] {
  const { change, open, narrow, wider, narrower } = CUT_COURSE;
  const narrowGaps = Array.from({ length: narrow }, (_, i) => ({ shape: GAP + i, cost: open }));
  if (m < GAP) return [{ shape: 1 - m, cost: change }, ...narrowGaps];
  return [
    ...(m > GAP ? [{ shape: m - 1, cost: wider }] : []),
    ...(m + 1 < COUNT ? [{ shape: m + 1, cost: narrower }] : []),
    ...(m < GAP + narrow ? [{ shape: 0, cost: open }, { shape: 1, cost: open }] : []),
  ];
}

const CHANGES = SHAPES.map((_, m) => changesTo(m));
