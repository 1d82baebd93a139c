import { length3 } from '../numerics/lengths.js';

/**
 * A slit is the part of a boundary loop whose two sides run along each other from a tip to a mouth, where they turn away
 * from each other into the rest of the loop: a body that was cut open from its edge on and stands a little apart.
 */
export const PART_SLIT = {
  /** Widest slit, mm. */
  widest: 14,
  /** Shortest, mm, and over its mean width. */
  shortest: 40,
  slender: 5,
  /** The sides turn away from each other where they stand apart by this much more than at the middle of the slit: times, and mm. */
  flare: 1.6,
  flareMm: 1.5,
  /** What is left of the loop, over the slit's length at least. */
  rest: 0.5,
  /** One side is walked ahead of the other where that is nearer by this share of how far it is ahead. */
  even: 0.2,
} as const;

export interface PartedLoop {
  /** The slit, closed across its mouth. */
  readonly slit: Uint32Array;
  /** The rest of the loop, closed across that mouth likewise; both run as the loop does. */
  readonly rest: Uint32Array;
}

/** Parts the longest slit from a boundary loop; null where there is none. `positions` in mm. */
export function partSlit(positions: Float64Array, loop: Uint32Array): PartedLoop | null {
  const n = loop.length;
  const between = (i: number, j: number): number => {
    const a = 3 * loop[i];
    const b = 3 * loop[j];
    return length3(positions[a] - positions[b], positions[a + 1] - positions[b + 1], positions[a + 2] - positions[b + 2]);
  };
  const steps = Float64Array.from({ length: n }, (_, i) => between(i, (i + 1) % n));
  const around = steps.reduce((sum, s) => sum + s, 0);
  let longest: Mouth | null = null;
  for (let tip = 0; tip < n; tip++) {
    const mouth = mouthOf(tip, steps, between);
    if (mouth !== null && mouth.side <= around / (2 + PART_SLIT.rest) && (longest === null || mouth.side > longest.side)) longest = mouth;
  }
  if (longest === null) return null;
  const { back, ahead } = longest;
  const run = (from: number, to: number): Uint32Array => Uint32Array.from({ length: ((to - from + n) % n) + 1 }, (_, i) => loop[(from + i) % n]);
  return { slit: run(back, ahead), rest: run(ahead, back) };
}

interface Mouth {
  /** Indices into the loop: the slit runs from `back` over the tip to `ahead`. */
  readonly back: number;
  readonly ahead: number;
  /** Mean length of its two sides, mm. */
  readonly side: number;
}

/** How far a walk up both sides has come. */
interface Place {
  readonly back: number;
  readonly ahead: number;
  /** mm */
  readonly walkedBack: number;
  readonly walkedAhead: number;
  readonly width: number;
}

const lengthOf = ({ walkedBack, walkedAhead }: Place): number => walkedBack + walkedAhead;
const cost = ({ width, walkedBack, walkedAhead }: Place): number => width + PART_SLIT.even * Math.abs(walkedBack - walkedAhead);

/** The mouth of the slit whose tip is vertex `tip` of the loop; null where its sides do not run along each other far enough. */
function mouthOf(tip: number, steps: Float64Array, between: (i: number, j: number) => number): Mouth | null {
  const d = PART_SLIT;
  const n = steps.length;
  const walk: Place[] = [];
  let at: Place = { back: tip, ahead: tip, walkedBack: 0, walkedAhead: 0, width: 0 };
  for (let taken = 0; taken < n - 3; taken++) {
    const before = { back: (at.back + n - 1) % n, walkedBack: at.walkedBack + steps[(at.back + n - 1) % n] };
    const after = { ahead: (at.ahead + 1) % n, walkedAhead: at.walkedAhead + steps[at.ahead] };
    let next: Place | null = null;
    for (const move of [{ ...at, ...before, ...after }, { ...at, ...before }, { ...at, ...after }]) {
      const place = { ...move, width: between(move.back, move.ahead) };
      if (place.width <= d.widest && (next === null || cost(place) < cost(next))) next = place;
    }
    if (next === null) break;
    at = next;
    walk.push(at);
  }
  if (lengthOf(at) < 2 * d.shortest) return null;
  const widths = walk.map(({ width }) => width).sort((a, b) => a - b);
  const usual = widths[widths.length >> 1];
  const last = walk.findLast(({ width }) => width <= Math.min(d.widest, d.flare * usual + d.flareMm));
  if (last === undefined || lengthOf(last) < 2 * Math.max(d.shortest, d.slender * usual)) return null;
  return { back: last.back, ahead: last.ahead, side: lengthOf(last) / 2 };
}
