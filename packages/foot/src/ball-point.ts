import type { Point } from './landmarks.js';

export const BALL_POINT = {
  /** Stretch of the outline on either side of the extreme that its place is read from, mm. */
  reach: 8,
  bin: 1,
  /** How far the place may lie from the extreme vertex, mm. */
  slide: 6,
  /** The outline is read down to this far inside the extreme, mm. */
  depth: 8,
  /** Bins that must hold a vertex. */
  leastBins: 11,
} as const;

/**
 * The outermost point of the outline with from ≤ x ≤ to. The outline is flat there, so a single extreme vertex would
 * slide with noise and triangulation: its place is the maximum of a quartic through the outline round it.
 *
 * @param p positions in the foot frame
 * @param direction +1 for greatest y, −1 for least y
 * @returns null where nothing lies in the window
 */
export function outermost(p: Float64Array, from: number, to: number, direction: number): Point | null {
  const near: number[] = [];
  let extreme = -1;
  let most = -Infinity;
  const margin = BALL_POINT.reach + 1;
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i];
    if (x < from - margin || x > to + margin) continue;
    const y = direction * p[i + 1];
    if (y < most - BALL_POINT.depth) continue;
    near.push(i);
    if (x < from || x > to || y <= most) continue;
    most = y;
    extreme = i;
  }
  if (extreme < 0) return null;
  const centre = p[extreme];
  const bins = 2 * BALL_POINT.reach + 1;
  const reach = new Float64Array(bins).fill(-Infinity);
  const at = new Int32Array(bins).fill(-1);
  for (const i of near) {
    const b = Math.round((p[i] - centre) / BALL_POINT.bin) + BALL_POINT.reach;
    if (b < 0 || b >= bins || direction * p[i + 1] <= reach[b]) continue;
    reach[b] = direction * p[i + 1];
    at[b] = i;
  }
  const used = [...at.keys()].filter((b) => at[b] >= 0 && reach[b] > most - BALL_POINT.depth);
  const vertex: Point = [centre, p[extreme + 1], p[extreme + 2]];
  if (used.length < BALL_POINT.leastBins) return vertex;
  const scale = BALL_POINT.reach;
  const fit = quartic(used.map((b) => (p[at[b]] - centre) / scale), used.map((b) => reach[b] - most));
  if (fit === null) return vertex;
  let best = 0;
  let height = -Infinity;
  const low = Math.max(from - centre, -BALL_POINT.slide);
  const high = Math.min(to - centre, BALL_POINT.slide);
  for (let k = 0; k <= 2000; k++) {
    const x = low + ((high - low) * k) / 2000;
    const t = x / scale;
    const y = fit[0] + t * (fit[1] + t * (fit[2] + t * (fit[3] + t * fit[4])));
    if (y > height) [height, best] = [y, x];
  }
  let z = 0;
  let weights = 0;
  for (const b of used) {
    const w = Math.exp(-(((p[at[b]] - centre - best) / 2) ** 2));
    z += w * p[at[b] + 2];
    weights += w;
  }
  return [centre + best, direction * (most + height), weights > 1e-6 ? z / weights : p[extreme + 2]];
}

/** Least-squares quartic; null where the points do not determine it. */
function quartic(x: readonly number[], y: readonly number[]): number[] | null {
  const n = 5;
  const rows = Array.from({ length: n }, () => new Array<number>(n + 1).fill(0));
  for (let i = 0; i < x.length; i++) {
    const powers = [1, x[i], x[i] ** 2, x[i] ** 3, x[i] ** 4];
    for (let r = 0; r < n; r++) {
      for (let c = 0; c < n; c++) rows[r][c] += powers[r] * powers[c];
      rows[r][n] += powers[r] * y[i];
    }
  }
  for (let i = 0; i < n; i++) {
    let pivot = i;
    for (let r = i + 1; r < n; r++) if (Math.abs(rows[r][i]) > Math.abs(rows[pivot][i])) pivot = r;
    [rows[i], rows[pivot]] = [rows[pivot], rows[i]];
    if (Math.abs(rows[i][i]) < 1e-12) return null;
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const factor = rows[r][i] / rows[i][i];
      for (let c = i; c <= n; c++) rows[r][c] -= factor * rows[i][c];
    }
  }
  return rows.map((row, i) => row[n] / row[i]);
}
