import type { ToeLine } from './toe-frame.js';
import { ahead } from './toe-frame.js';

/** Length over which a radius is taken, and distance of the places that it is taken from, mm. */
const OVER = 10;
const STEP = 0.5;

/** Radii are sought from this far ahead of the start on, mm. */
const FROM = 4;
/** Between the directions in which the outline's corners are sought, radians, how many of them from straight ahead to each side, and every which first. */
const TURN = Math.PI / 180;
const TURNS = 100;
const COARSE = 10;
/** A corner lies no farther than this, mm, inside the coarse outline. */
const INSIDE = 3;

/** The least radius, over 10 mm each, of the convex outline of a body's front seen from above, mm. */
export function outlineRadius(p: Float64Array, start: ToeLine): number {
  const front: number[] = [];
  for (let i = 0; i < p.length; i += 3) if (ahead(start, p[i], p[i + 1]) > FROM) front.push(p[i], p[i + 1]);
  const line = evenly(cornersOf(nearOutline(front)));
  const around = OVER / STEP / 2;
  let least = Infinity;
  for (let k = around; k + around < line.length / 2; k++) least = Math.min(least, circleRadius(line.subarray(2 * (k - around), 2 * (k + around + 1))));
  return least;
}

/** Those of the points, pairs, that lie near to a tangent of their outline. */
function nearOutline(p: readonly number[]): number[] {
  const near = new Uint8Array(p.length / 2);
  for (let k = -TURNS; k <= TURNS; k += COARSE) {
    const c = Math.cos(k * TURN);
    const s = Math.sin(k * TURN);
    let most = -Infinity;
    for (let i = 0; i < p.length; i += 2) most = Math.max(most, c * p[i] + s * p[i + 1]);
    for (let i = 0; i < p.length; i += 2) if (c * p[i] + s * p[i + 1] > most - INSIDE) near[i / 2] = 1;
  }
  return p.filter((_, i) => near[i >> 1] === 1);
}

/** The farthest points in each direction, each once, pairs. */
function cornersOf(p: readonly number[]): number[] {
  const out: number[] = [];
  let last = -1;
  for (let k = -TURNS; k <= TURNS; k++) {
    const c = Math.cos(k * TURN);
    const s = Math.sin(k * TURN);
    let best = 0;
    let most = -Infinity;
    for (let i = 0; i < p.length; i += 2) {
      const r = c * p[i] + s * p[i + 1];
      if (r <= most) continue;
      most = r;
      best = i;
    }
    if (best !== last) out.push(p[best], p[best + 1]);
    last = best;
  }
  return out;
}

/** Points `STEP` apart along a line of corners. */
function evenly(corners: readonly number[]): Float64Array {
  const out: number[] = [];
  let left = 0;
  for (let i = 0; i + 3 < corners.length; i += 2) {
    const dx = corners[i + 2] - corners[i];
    const dy = corners[i + 3] - corners[i + 1];
    const length = Math.sqrt(dx * dx + dy * dy);
    for (; left < length; left += STEP) out.push(corners[i] + (dx * left) / length, corners[i + 1] + (dy * left) / length);
    left -= length;
  }
  return Float64Array.from(out);
}

/** Radius of the circle through points by algebraic least squares (I. Kåsa, IEEE Trans. Instrum. Meas. 25, 1976). */
function circleRadius(p: Float64Array): number {
  const n = p.length / 2;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < p.length; i += 2) {
    mx += p[i] / n;
    my += p[i + 1] / n;
  }
  let uu = 0;
  let vv = 0;
  let uv = 0;
  let uw = 0;
  let vw = 0;
  for (let i = 0; i < p.length; i += 2) {
    const u = p[i] - mx;
    const v = p[i + 1] - my;
    const w = u * u + v * v;
    uu += u * u;
    vv += v * v;
    uv += u * v;
    uw += u * w;
    vw += v * w;
  }
  const size = 2 * (uu * vv - uv * uv);
  if (Math.abs(size) < 1e-9 * uu * vv || size === 0) return Infinity;
  const a = (uw * vv - vw * uv) / size;
  const b = (vw * uu - uw * uv) / size;
  return Math.sqrt(a * a + b * b + (uu + vv) / n);
}
