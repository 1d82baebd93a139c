/**
 * A line of the plane freed of steps about as long as `blur`: points `step` apart along it, each the Gaussian mean of those
 * round it (standard deviation `blur`, along the line). A closed line stays closed; the ends of an open one stay where they
 * are. A curve of radius r moves inward by about blur² / 2r.
 *
 * @param points pairs
 */
export function smoothLine(points: Float64Array, closed: boolean, step: number, blur: number): Float64Array {
  const even = evenly(points, closed, step);
  const count = even.length / 2;
  if (count < 3) return even;
  const reach = Math.ceil((3 * blur) / step);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-0.5 * (((i - reach) * step) / blur) ** 2));
  const out = new Float64Array(even.length);
  for (let i = 0; i < count; i++) {
    // Towards the ends of an open line fewer neighbours count, the same number on both sides.
    const near = closed ? reach : Math.min(reach, i, count - 1 - i);
    let x = 0;
    let y = 0;
    let sum = 0;
    for (let k = -near; k <= near; k++) {
      const j = closed ? (i + k + count * reach) % count : i + k;
      const w = weights[k + reach];
      x += w * even[2 * j];
      y += w * even[2 * j + 1];
      sum += w;
    }
    out[2 * i] = x / sum;
    out[2 * i + 1] = y / sum;
  }
  return out;
}

/** Points the same distance apart along a line, as near to `step` as the length allows. */
function evenly(points: Float64Array, closed: boolean, step: number): Float64Array {
  const count = points.length / 2;
  const segments = closed ? count : count - 1;
  const lengths = Array.from({ length: segments }, (_, i) => Math.hypot(points[2 * ((i + 1) % count)] - points[2 * i], points[2 * ((i + 1) % count) + 1] - points[2 * i + 1]));
  const whole = lengths.reduce((sum, l) => sum + l, 0);
  const pieces = Math.max(closed ? 3 : 1, Math.round(whole / step));
  const out = new Float64Array(2 * (closed ? pieces : pieces + 1));
  let segment = 0;
  let before = 0;
  for (let i = 0; 2 * i < out.length; i++) {
    const at = (i / pieces) * whole;
    while (segment < segments - 1 && before + lengths[segment] < at) before += lengths[segment++];
    const share = lengths[segment] > 0 ? Math.min(1, (at - before) / lengths[segment]) : 0;
    const next = (segment + 1) % count;
    for (let k = 0; k < 2; k++) out[2 * i + k] = points[2 * segment + k] + share * (points[2 * next + k] - points[2 * segment + k]);
  }
  return out;
}
