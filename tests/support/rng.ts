/**
 * A seeded generator for tests: mulberry32 (Tommy Ettinger, public domain) with normal deviates by the polar method.
 * The same seed gives the same numbers on every machine. Put the seed into the test's name.
 */
export interface Rng {
  /** Uniform in [0, 1). */
  next(): number;
  /** Uniform in [low, high). */
  range(low: number, high: number): number;
  /** A whole number, 0 ≤ n < limit. */
  below(limit: number): number;
  /** Normal deviate with mean 0 and standard deviation 1. */
  normal(): number;
  /** A uniformly distributed unit 3-vector. */
  direction(): [number, number, number];
  /** A uniformly distributed rotation: 3 × 3, row-major, 9 numbers, determinant +1. */
  rotation(): Float64Array;
}

export function rng(seed: number): Rng {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  let spare: number | null = null;
  const normal = (): number => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const u = 2 * next() - 1;
      const v = 2 * next() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const f = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * f;
        return u * f;
      }
    }
  };
  const unit = (n: number): number[] => {
    const v = Array.from({ length: n }, normal);
    const length = Math.hypot(...v);
    return v.map((c) => c / length);
  };
  return {
    next,
    range: (low, high) => low + (high - low) * next(),
    below: (limit) => Math.floor(next() * limit),
    normal,
    direction: () => unit(3) as [number, number, number],
    rotation: () => {
      const [w, x, y, z] = unit(4);
      return new Float64Array([
        1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y),
        2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x),
        2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y),
      ]);
    },
  };
}
