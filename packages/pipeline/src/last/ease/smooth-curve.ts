/** Values on an even grid, joined by the cubic B-spline that has them as its control points: twice smooth, and a little fairer. */
export interface SmoothCurve {
  readonly from: number;
  readonly step: number;
  readonly values: Float64Array;
}

/** The weights of four neighbouring control points at t of the way from the second to the third; sum 1. */
export function splineWeights(t: number, out: Float64Array): void {
  const s = 1 - t;
  out[0] = (s * s * s) / 6;
  out[1] = (4 - 6 * t * t + 3 * t * t * t) / 6;
  out[2] = (4 - 6 * s * s + 3 * s * s * s) / 6;
  out[3] = (t * t * t) / 6;
}

const weights = new Float64Array(4);

/** The curve at x; beyond its ends it keeps its end values. */
export function curveAt({ from, step, values }: SmoothCurve, x: number): number {
  const last = values.length - 1;
  const at = Math.min(Math.max((x - from) / step, 0), last);
  const i = Math.floor(at);
  splineWeights(at - i, weights);
  let sum = 0;
  for (let k = 0; k < 4; k++) sum += weights[k] * values[Math.min(Math.max(i + k - 1, 0), last)];
  return sum;
}

/** The values blurred by `rounds` of the weights 1, 2, 1, ends kept as if they went on. */
export function blurred(values: Float64Array, rounds: number): Float64Array {
  let from = values;
  const last = values.length - 1;
  for (let round = 0; round < rounds; round++) {
    const before = from;
    from = before.map((v, i) => (before[Math.max(i - 1, 0)] + 2 * v + before[Math.min(i + 1, last)]) / 4);
  }
  return from;
}
