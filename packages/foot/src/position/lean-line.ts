/** A straight line through points at several heights. */
export interface LeanLine {
  /** Angle from the frame's Z, radians. */
  readonly angle: number;
  /** A point on it: value and height, mm. */
  readonly at: number;
  readonly z: number;
  /** Height between its lowest and highest point, mm. */
  readonly span: number;
  /** Standard deviation of the points about it, mm. */
  readonly scatter: number;
  readonly count: number;
}

/** Height that a line needs, mm. */
const LEAST_SPAN = 12;

/** Least squares of values over heights, mm; null where they span too little. */
export function leanLine(heights: readonly number[], values: readonly number[]): LeanLine | null {
  const count = heights.length;
  if (count < 3) return null;
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / count;
  const z = mean(heights);
  const at = mean(values);
  const span = Math.max(...heights) - Math.min(...heights);
  if (span < LEAST_SPAN) return null;
  let zz = 0;
  let zv = 0;
  let vv = 0;
  for (let i = 0; i < count; i++) {
    zz += (heights[i] - z) ** 2;
    zv += (heights[i] - z) * (values[i] - at);
    vv += (values[i] - at) ** 2;
  }
  const slope = zv / zz;
  return { angle: Math.atan(slope), at, z, span, scatter: Math.sqrt(Math.max(0, vv - slope * zv) / count), count };
}
