/** Radius over a station (mm along an axis) and an angle round it, mm. */
export type SplineSheet = (station: number, angle: number) => number;

const ANGLES = 28;

/**
 * A closed tube as a tensor product of uniform cubic B-splines (twice differentiable): `radius(station, angle)` is taken at
 * control points from `from` to `to`, `step` mm apart, and at 28 angles. Beyond the ends the last control row goes on.
 */
export function splineSheet(from: number, to: number, step: number, radius: (station: number, angle: number) => number): SplineSheet {
  const rows = Math.ceil((to - from) / step) + 1;
  const control = new Float64Array(rows * ANGLES);
  for (let r = 0; r < rows; r++) {
    for (let a = 0; a < ANGLES; a++) control[r * ANGLES + a] = radius(from + r * step, (2 * Math.PI * a) / ANGLES);
  }
  const across = new Float64Array(4);
  const along = new Float64Array(4);
  return (station, angle) => {
    const s = (station - from) / step;
    const i = Math.floor(s);
    weights(s - i, along);
    const turn = (angle / (2 * Math.PI)) * ANGLES;
    const j = Math.floor(turn);
    weights(turn - j, across);
    let sum = 0;
    for (let m = 0; m < 4; m++) {
      const row = Math.min(rows - 1, Math.max(0, i + m - 1)) * ANGLES;
      let inRow = 0;
      for (let n = 0; n < 4; n++) inRow += across[n] * control[row + ((j + n - 1 + 2 * ANGLES) % ANGLES)];
      sum += along[m] * inRow;
    }
    return sum;
  };
}

function weights(t: number, out: Float64Array): void {
  const u = 1 - t;
  out[0] = (u * u * u) / 6;
  out[1] = (3 * t * t * t - 6 * t * t + 4) / 6;
  out[2] = (3 * u * u * u - 6 * u * u + 4) / 6;
  out[3] = (t * t * t) / 6;
}

/** A smooth curve through values at stations: straight between them, then averaged over `width` mm (5 points, Gaussian). */
export function through(points: readonly (readonly [number, number])[], width: number): (station: number) => number {
  const straight = (s: number): number => {
    if (s <= points[0][0]) return points[0][1];
    for (let i = 1; i < points.length; i++) {
      if (s > points[i][0]) continue;
      const [x0, y0] = points[i - 1];
      const [x1, y1] = points[i];
      return y0 + ((s - x0) / (x1 - x0)) * (y1 - y0);
    }
    return points[points.length - 1][1];
  };
  return (s) => {
    let sum = 0;
    let all = 0;
    for (let k = -6; k <= 6; k++) {
      const w = Math.exp(-0.5 * (k / 3) ** 2);
      sum += w * straight(s + (k / 6) * width);
      all += w;
    }
    return sum / all;
  };
}

/** Radius at `angle` of a superellipse with its own half-axis on each side: east (0), north (π/2), west, south; `power` ≥ 2. */
export function ovalRadius(angle: number, east: number, north: number, west: number, south: number, power: number): number {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const a = c >= 0 ? east : west;
  const b = s >= 0 ? north : south;
  return (Math.abs(c / a) ** power + Math.abs(s / b) ** power) ** (-1 / power);
}
