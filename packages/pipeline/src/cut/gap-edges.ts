import { median } from '@cast-to-last/geometry/numerics/median';
import type { CutStation } from './cut-course.js';
import type { GapPlace } from './gap-course.js';
import { GAP_COURSE } from './gap-course.js';
import type { Added, GapWindow } from './section-shapes.js';
import { explainedBy, gapWindow, leftByFoot, likelier, squares } from './section-shapes.js';
import type { TopMap } from './top-map.js';
import { gapShapes } from './two-edges.js';
import { likeliestOf, wayBack } from './way-back.js';

export const GAP_EDGES = {
  /** The edges are sought within so many samples of where they were found, in so many rounds. */
  within: 8,
  rounds: 2,
  /** Samples that an edge may stray by from one station to the next, and what a sample costs, squared. */
  stray: 3,
  strayCost: 0.35,
  /** Where a round looks is the middle value over so many stations to both sides. */
  evened: 4,
  /** Edges nearer than this are those of one line, samples. */
  nearest: 5,
} as const;

const K = 2 * GAP_EDGES.within + 1;

/**
 * The edges of a gap where the sections bear them out best, each running smoothly along the cut.
 *
 * @param places from the toe base up, at least one
 */
export function gapEdges(map: TopMap, course: readonly CutStation[], places: readonly GapPlace[]): GapPlace[] {
  const made = new Map<number, Shapes>();
  let found = [...places];
  for (let round = 0; round < GAP_EDGES.rounds; round++) found = settled(map, course, evened(found), made);
  return found;
}

/** The places as they are looked round next: all along an even middle and width. */
function evened(places: readonly GapPlace[]): GapPlace[] {
  return places.map(({ index }, n) => {
    const near = places.slice(Math.max(0, n - GAP_EDGES.evened), n + GAP_EDGES.evened + 1);
    const half = Math.round(median(Float64Array.from(near, ({ low, high }) => (high - low) / 2)));
    const width = Math.max(GAP_COURSE.narrowest, Math.min(GAP_COURSE.widest, 2 * half));
    const low = Math.round(median(Float64Array.from(near, ({ low, high }) => (low + high) / 2))) - width / 2;
    return { index, low, high: low + width };
  });
}

function settled(map: TopMap, course: readonly CutStation[], places: readonly GapPlace[], made: Map<number, Shapes>): GapPlace[] {
  const tables = places.map((place) => tableOf(map, course[place.index].station, place, made));
  const from: Int32Array[] = [];
  let best = tables[0];
  for (let n = 1; n < places.length; n++) {
    const next = new Float64Array(K * K).fill(-Infinity);
    const came = new Int32Array(K * K);
    const shiftLow = places[n].low - places[n - 1].low;
    const shiftHigh = places[n].high - places[n - 1].high;
    const cost = (GAP_EDGES.strayCost * GAP_COURSE.every) / (places[n].index - places[n - 1].index);
    const likely = likeliestOf(best);
    for (let state = 0; state < K * K; state++) {
      if (tables[n][state] === -Infinity) continue;
      const a = Math.floor(state / K) + shiftLow;
      const b = (state % K) + shiftHigh;
      // Beyond what an edge strays by it costs no more: where the surface is not whole the course begins anew.
      let most = best[likely] - 2 * cost * (GAP_EDGES.stray + 1) ** 2;
      came[state] = likely;
      for (let low = Math.max(0, a - GAP_EDGES.stray); low <= Math.min(K - 1, a + GAP_EDGES.stray); low++) {
        for (let high = Math.max(0, b - GAP_EDGES.stray); high <= Math.min(K - 1, b + GAP_EDGES.stray); high++) {
          const value = best[low * K + high] - cost * ((low - a) ** 2 + (high - b) ** 2);
          if (value <= most) continue;
          most = value;
          came[state] = low * K + high;
        }
      }
      next[state] = most + tables[n][state];
    }
    best = next;
    from.push(came);
  }
  return wayBack(from, likeliestOf(best)).map((state, n) => {
    const { index, low, high } = places[n];
    return { index, low: low - GAP_EDGES.within + Math.floor(state / K), high: high - GAP_EDGES.within + (state % K) };
  });
}

/** Log likelihoods of the edges near a place, low edge by high edge; −Infinity where they would be one line. */
function tableOf(map: TopMap, station: number, { low, high }: GapPlace, made: Map<number, Shapes>): Float64Array {
  const samples = high - low;
  const { window, shapes } = made.get(samples) ?? shapesOf(samples);
  made.set(samples, { window, shapes });
  const rest = leftByFoot(map, station, low + samples / 2, window);
  if (rest === null) return Float64Array.from(shapes, (pairs) => (pairs === null ? -Infinity : 0));
  const total = squares(rest);
  return Float64Array.from(shapes, (pairs) => (pairs === null ? -Infinity : likelier(total - explainedBy(pairs, rest), total, rest.length)));
}

interface Shapes {
  readonly window: GapWindow;
  readonly shapes: readonly (readonly Added[] | null)[];
}

function shapesOf(samples: number): Shapes {
  const window = gapWindow(samples);
  const shapes = Array.from({ length: K * K }, (_, state) => {
    const low = -samples / 2 - GAP_EDGES.within + Math.floor(state / K);
    const high = samples / 2 - GAP_EDGES.within + (state % K);
    return high - low < GAP_EDGES.nearest ? null : gapShapes(window, low, high);
  });
  return { window, shapes };
}
