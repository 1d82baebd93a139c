import { length2, length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';

export const TOP_MAP = {
  /** Where the map begins, a share of foot length: behind the clefts of the toes, which look like cuts. */
  front: 0.75,
  /** Distance of the stations along the top, mm, and blur of the line they stand on (standard deviation). */
  station: 2,
  blur: 6,
  /** Half width of the map and distance of the samples across, mm along the surface. */
  half: 44,
  step: 0.5,
} as const;

/** Samples of a station: from −half to +half. */
export const ACROSS = Math.round((2 * TOP_MAP.half) / TOP_MAP.step) + 1;

/**
 * The top of a foot from the toe base over the instep up the front of the ankle, laid out in cross sections: station i,
 * sample j lies at arc length (j − middle) · step from the line along the top, positive towards +y.
 */
export interface TopMap {
  readonly stations: number;
  /** x, y, z of each sample; NaN where the section ends before. Length 3 × stations × ACROSS. */
  readonly points: Float64Array;
  /** Unit direction along the top at each station, towards the heel and up; y is 0. Length 3 × stations. */
  readonly along: Float64Array;
}

/**
 * @param mesh in the foot frame
 * @param end height at which the map ends, mm: below a closed top; Infinity where the leg is open
 * @returns null where the top of the foot is not there
 */
export function topMap(mesh: Mesh, twin: Int32Array, footLength: number, instep: Point, end: number): TopMap | null {
  const line = topLine(mesh, twin, footLength, instep, end);
  if (line === null) return null;
  const stations = line.length / 3;
  const points = new Float64Array(3 * stations * ACROSS).fill(NaN);
  const along = new Float64Array(3 * stations);
  for (let i = 0; i < stations; i++) {
    const before = Math.max(0, i - 1);
    const after = Math.min(stations - 1, i + 1);
    const dx = line[3 * after] - line[3 * before];
    const dz = line[3 * after + 2] - line[3 * before + 2];
    const length = length2(dx, dz);
    along[3 * i] = dx / length;
    along[3 * i + 2] = dz / length;
    const at = line.subarray(3 * i, 3 * i + 3);
    const normal = along.subarray(3 * i, 3 * i + 3);
    layOut(section(mesh, twin, normal, at[0] * normal[0] + at[2] * normal[2]), at, points.subarray(3 * i * ACROSS, 3 * (i + 1) * ACROSS));
  }
  return { stations, points, along };
}

/** Points at even distances along the top in the plane through the instep, from the toe base to the top edge, smoothed. */
function topLine(mesh: Mesh, twin: Int32Array, footLength: number, instep: Point, end: number): Float64Array | null {
  const curve = nearestCurve(section(mesh, twin, [0, 1, 0], instep[1]), instep);
  if (curve === null) return null;
  const { points: p, closed } = curve.curve;
  const count = p.length / 3;
  const walk = (step: number): number[] => {
    const way = [curve.at];
    for (let i = curve.at + step, n = 1; n < count; i += step, n++) {
      if (!closed && (i < 0 || i >= count)) break;
      way.push((i + count) % count);
    }
    return way;
  };
  const ways = [walk(1), walk(-1)];
  // Towards the toes x grows at first.
  const ahead = meanX(p, ways[0]) > meanX(p, ways[1]) ? 0 : 1;
  const forward = ways[ahead];
  const front = forward.findIndex((v) => p[3 * v] >= TOP_MAP.front * footLength);
  if (front < 0) return null;
  const back = ways[1 - ahead];
  const top = back.findIndex((v) => p[3 * v + 2] > end);
  const whole = [...forward.slice(0, front).reverse(), ...back.slice(1, top < 0 ? back.length : top)].flatMap((v) => [p[3 * v], p[3 * v + 1], p[3 * v + 2]]);
  return whole.length < 30 ? null : evenAndSmooth(Float64Array.from(whole));
}

const meanX = (p: Float64Array, way: readonly number[]): number => {
  const near = way.slice(0, 12);
  return near.reduce((sum, v) => sum + p[3 * v], 0) / near.length;
};

function nearestCurve(curves: readonly SectionCurve[], to: ArrayLike<number>): { curve: SectionCurve; at: number } | null {
  let best: { curve: SectionCurve; at: number } | null = null;
  let least = Infinity;
  for (const curve of curves) {
    for (let i = 0; i < curve.points.length; i += 3) {
      const d = (curve.points[i] - to[0]) ** 2 + (curve.points[i + 1] - to[1]) ** 2 + (curve.points[i + 2] - to[2]) ** 2;
      if (d >= least) continue;
      least = d;
      best = { curve, at: i / 3 };
    }
  }
  return best;
}

/** Points at even distances along a polyline, blurred along it. */
function evenAndSmooth(line: Float64Array): Float64Array {
  const fine = resampled(line, 1);
  const count = fine.length / 3;
  const reach = 3 * TOP_MAP.blur;
  const smooth = new Float64Array(fine.length);
  for (let i = 0; i < count; i++) {
    // Even near its ends the window is symmetrical, so that the line does not shrink.
    const half = Math.min(reach, i, count - 1 - i);
    let weight = 0;
    for (let d = -half; d <= half; d++) {
      const w = Math.exp(-(d * d) / (2 * TOP_MAP.blur ** 2));
      weight += w;
      for (let k = 0; k < 3; k++) smooth[3 * i + k] += w * fine[3 * (i + d) + k];
    }
    for (let k = 0; k < 3; k++) smooth[3 * i + k] /= weight;
  }
  return resampled(smooth, TOP_MAP.station);
}

function resampled(line: Float64Array, step: number): Float64Array {
  const out: number[] = [line[0], line[1], line[2]];
  let left = step;
  for (let i = 3; i < line.length; i += 3) {
    let from = [line[i - 3], line[i - 2], line[i - 1]];
    let length = length3(line[i] - from[0], line[i + 1] - from[1], line[i + 2] - from[2]);
    while (length >= left && length > 0) {
      from = from.map((c, k) => c + (left / length) * (line[i + k] - c));
      out.push(...from);
      length -= left;
      left = step;
    }
    left -= length;
  }
  return Float64Array.from(out);
}

/** Samples of the curve that passes nearest to `at`, at even arc lengths to both sides of it; +y comes last. */
function layOut(curves: readonly SectionCurve[], at: ArrayLike<number>, out: Float64Array): void {
  const found = nearestCurve(curves, at);
  if (found === null) return;
  const { points: p, closed } = found.curve;
  const count = p.length / 3;
  const middle = (ACROSS - 1) / 2;
  out.set(p.subarray(3 * found.at, 3 * found.at + 3), 3 * middle);
  const ways = [1, -1].map((turn) => oneWay(p, closed, count, found.at, turn));
  const rising = ways[0][1] - ways[1][1] > 0 ? 0 : 1;
  [ways[rising], ways[1 - rising]].forEach((samples, side) => {
    for (let n = 0; n < samples.length / 3; n++) {
      const j = side === 0 ? middle + 1 + n : middle - 1 - n;
      out.set(samples.subarray(3 * n, 3 * n + 3), 3 * j);
    }
  });
}

/** The samples that follow a point of a curve in one direction; shorter where the curve ends. */
function oneWay(p: Float64Array, closed: boolean, count: number, start: number, turn: number): Float64Array {
  const most = (ACROSS - 1) / 2;
  const out: number[] = [];
  let left: number = TOP_MAP.step;
  let i = start;
  for (let n = 1; n < count && out.length < 3 * most; n++) {
    let next = i + turn;
    if (next < 0 || next >= count) {
      if (!closed) break;
      next = (next + count) % count;
    }
    let from = [p[3 * i], p[3 * i + 1], p[3 * i + 2]];
    let length = length3(p[3 * next] - from[0], p[3 * next + 1] - from[1], p[3 * next + 2] - from[2]);
    while (length >= left && out.length < 3 * most) {
      from = from.map((c, k) => c + (left / length) * (p[3 * next + k] - c));
      out.push(...from);
      length -= left;
      left = TOP_MAP.step;
    }
    left -= length;
    i = next;
  }
  return Float64Array.from(out);
}
