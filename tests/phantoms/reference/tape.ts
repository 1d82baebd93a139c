const DIRECTIONS = 720;
const COSINES = Float64Array.from({ length: DIRECTIONS }, (_, i) => Math.cos((Math.PI * i) / DIRECTIONS));
const SINES = Float64Array.from({ length: DIRECTIONS }, (_, i) => Math.sin((Math.PI * i) / DIRECTIONS));

/**
 * Perimeter of the convex hull of 2-D points (u, v pairs) by Cauchy's formula: the integral of the width over half a turn.
 * mm in, mm out, too long by at most 1.6e-6 of itself; 0 for fewer than 2 points.
 */
export function tapeLength(points: Float64Array): number {
  if (points.length < 4) return 0;
  let sum = 0;
  for (let i = 0; i < DIRECTIONS; i++) {
    const c = COSINES[i];
    const s = SINES[i];
    let low = Infinity;
    let high = -Infinity;
    for (let j = 0; j < points.length; j += 2) {
      const d = c * points[j] + s * points[j + 1];
      if (d < low) low = d;
      if (d > high) high = d;
    }
    sum += high - low;
  }
  return (sum * Math.PI) / DIRECTIONS;
}
