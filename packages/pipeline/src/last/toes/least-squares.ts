import { solveBanded } from '@cast-to-last/geometry/numerics/banded-cholesky';

/** One square of a sum: weight · (Σ weights · neighbouring unknowns − wanted)². */
export interface Wish {
  /** Of the unknowns that it is about. */
  readonly first: number;
  readonly weights: readonly number[];
  readonly wanted: number;
  readonly weight: number;
  /** True where more than wanted costs nothing. */
  readonly least: boolean;
}

/** How often which wishes count is sought anew at most, how exactly the best step is, and the change below which it ends. */
const SEARCH = { rounds: 80, halvings: 30, still: 1e-5 } as const;

/**
 * The unknowns with the least sum of squares: Newton's method, each step as far along as the sum falls, which for a convex
 * sum of one-sided squares always ends.
 */
export function leastSquares(wishes: readonly Wish[], first: Float64Array): Float64Array {
  const width = wishes.reduce((most, { weights }) => Math.max(most, weights.length), 0) - 1;
  let at = first.slice();
  for (let round = 0; round < SEARCH.rounds; round++) {
    const band = new Float64Array(at.length * (width + 1));
    const to = new Float64Array(at.length);
    for (const { first: f, weights, wanted, weight, least } of wishes) {
      if (least && valueOf(f, weights, at) >= wanted) continue;
      for (let a = 0; a < weights.length; a++) {
        to[f + a] += weight * weights[a] * wanted;
        for (let b = 0; b <= a; b++) band[(f + a) * (width + 1) + a - b] += weight * weights[a] * weights[b];
      }
    }
    solveBanded(band, width, [to]);
    const step = to.map((v, k) => v - at[k]);
    const share = bestShare(wishes, at, step);
    at = at.map((v, k) => v + share * step[k]);
    if (step.every((s) => Math.abs(share * s) < SEARCH.still)) break;
  }
  return at;
}

function valueOf(first: number, weights: readonly number[], at: Float64Array): number {
  let sum = 0;
  for (let a = 0; a < weights.length; a++) sum += weights[a] * at[first + a];
  return sum;
}

/** The share of a step, up to the whole, at which the sum is least. */
function bestShare(wishes: readonly Wish[], at: Float64Array, step: Float64Array): number {
  const from = wishes.map((w) => valueOf(w.first, w.weights, at) - w.wanted);
  const by = wishes.map((w) => valueOf(w.first, w.weights, step));
  const falls = (share: number): boolean => {
    let slope = 0;
    for (let i = 0; i < wishes.length; i++) {
      const left = from[i] + share * by[i];
      if (!wishes[i].least || left < 0) slope += wishes[i].weight * left * by[i];
    }
    return slope <= 0;
  };
  if (falls(1)) return 1;
  let low = 0;
  let high = 1;
  for (let k = 0; k < SEARCH.halvings; k++) {
    const middle = (low + high) / 2;
    if (falls(middle)) low = middle;
    else high = middle;
  }
  return low;
}
