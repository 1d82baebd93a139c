import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { planeBounds } from '@cast-to-last/geometry/numerics/plane-bounds';
import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import { spanAt } from './flat-top.js';
import type { FlatTop } from './flat-top.js';
import type { TopHole } from './hole-walls.js';

export const MARK_DEFAULTS = {
  /** Depth and width of a mark's groove, mm. */
  depth: 0.4,
  width: 0.8,
  /** Length of a mark of the midline, and its distance from the top's edge, mm. */
  midline: 8,
  inset: 1.2,
  /** Marks shorter than this are left out, mm. */
  shortest: 2.5,
  /** Free of holes and of the other mark, mm. */
  clear: 1,
  /** Half the gap at a station through which its tape runs, and length of the strokes on either side, mm. */
  gap: 1,
  stroke: 5,
} as const;

/** Two points on the top's plane, u0, v0, u1, v1. */
export type TopLine = readonly [number, number, number, number];

/**
 * The marks of the midline on the flat top: the heel–ball axis (y = 0) drawn in from the back edge and from the front edge, as
 * far as holes leave room.
 */
export function midlineMarks(top: FlatTop, holes: readonly TopHole[]): TopLine[] {
  const span = spanAt(top, 1, 0);
  if (span === null) return [];
  const { inset, midline, shortest, clear, width } = MARK_DEFAULTS;
  const back = span[0] + inset;
  const front = span[1] - inset;
  const most = Math.min(midline, (front - back - clear) / 2 - width);
  const reach = (from: number, towards: 1 | -1): number =>
    holes.reduce((free, hole) => {
      const half = hole.radius + clear + width / 2;
      if (Math.abs(hole.v) >= half) return free;
      const near = towards * (hole.u - from) - Math.sqrt(half * half - hole.v * hole.v);
      return near + 2 * half < 0 ? free : Math.min(free, near);
    }, most);
  const marks: TopLine[] = [];
  if (reach(back, 1) >= shortest) marks.push([back, 0, back + reach(back, 1), 0]);
  if (reach(front, -1) >= shortest) marks.push([front - reach(front, -1), 0, front, 0]);
  return marks;
}

/**
 * Cutters for the marks of ball and heel on the sole: at each station two strokes in one line at right angles to it, with a gap
 * between them. The station runs through the gap, where nothing is cut, so a tape there feels no mark.
 */
export function soleMarks(scope: SolidScope, { positions, triangles }: Mesh, { ballCentre, medialBall, lateralBall, heelCentre }: Landmarks): Solid[] {
  const across = [medialBall[0] - lateralBall[0], medialBall[1] - lateralBall[1]];
  const turn = Math.sign(across[1]) / Math.hypot(across[0], across[1]);
  const forward: [number, number] = [across[1] * turn, -across[0] * turn];
  const near: Mesh = { positions, triangles: trianglesNear({ positions, triangles }, [ballCentre, heelCentre]) };
  return [
    ...[1, -1].map((way) => groove(scope, near, ballCentre, [way * forward[0], way * forward[1]])),
    ...[1, -1].map((way) => groove(scope, near, heelCentre, [way, 0])),
  ].filter((solid) => solid !== null);
}

/** The triangles, by their corners, that may lie over or under a stroke of one of these stations. */
function trianglesNear({ positions: p, triangles: t }: Mesh, stations: readonly Point[]): Uint32Array {
  const reach = MARK_DEFAULTS.gap + MARK_DEFAULTS.stroke;
  const found: number[] = [];
  for (let f = 0; f < t.length; f += 3) {
    for (const [x, y] of stations) {
      if (meets(p, t, f, 0, x - reach, x + reach) && meets(p, t, f, 1, y - reach, y + reach)) {
        found.push(t[f], t[f + 1], t[f + 2]);
        break;
      }
    }
  }
  return Uint32Array.from(found);
}

/** Whether a triangle comes between two values of a coordinate. */
function meets(p: Float64Array, t: Uint32Array, f: number, k: number, low: number, high: number): boolean {
  const a = p[3 * t[f] + k];
  const b = p[3 * t[f + 1] + k];
  const c = p[3 * t[f + 2] + k];
  return (a <= high || b <= high || c <= high) && (a >= low || b >= low || c >= low);
}

/** How far round a stroke the sole belongs to the piece of it that is worked on, mm: the strokes of a station lie in one. */
const ROUND = MARK_DEFAULTS.gap + 0.1;

/** The triangles of the sole at the strokes and round them. */
export function soleRound({ positions: p, triangles: t }: Mesh, strokes: readonly Solid[]): Uint32Array {
  const boxes = strokes.map(({ bounds }) => bounds);
  const found: number[] = [];
  const highest = boxes.reduce((most, box) => Math.max(most, box[5]), -Infinity) + ROUND;
  for (let f = 0; f < t.length; f += 3) {
    if (!meets(p, t, f, 2, -Infinity, highest) || !facesDown(p, 3 * t[f], 3 * t[f + 1], 3 * t[f + 2])) continue;
    for (const box of boxes) {
      if (!meets(p, t, f, 0, box[0] - ROUND, box[3] + ROUND) || !meets(p, t, f, 1, box[1] - ROUND, box[4] + ROUND) || !meets(p, t, f, 2, box[2] - ROUND, box[5] + ROUND)) continue;
      found.push(f / 3);
      break;
    }
  }
  return Uint32Array.from(found);
}

const facesDown = (p: Float64Array, a: number, b: number, c: number): boolean => (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a]) < 0;

/** Places along a stroke at which the sole's height is read. */
const PLACES = 8;

/** A stroke that begins beside `from` and runs along the unit vector `to`, cut into the lowest surface above it; null where there is none. */
function groove(scope: SolidScope, mesh: Mesh, from: ArrayLike<number>, to: readonly [number, number]): Solid | null {
  const { gap, stroke, depth, width } = MARK_DEFAULTS;
  const at = Float64Array.from({ length: PLACES }, (_, i) => gap + (stroke * i) / (PLACES - 1));
  const heights = lowestAt(mesh, Float64Array.from({ length: 2 * PLACES }, (_, i) => from[i % 2] + at[i >> 1] * to[i % 2]));
  if (!heights.every(Number.isFinite)) return null;
  const outline: number[] = [at[0], Math.min(...heights) - 2, at[PLACES - 1], Math.min(...heights) - 2];
  for (let i = PLACES - 1; i >= 0; i--) outline.push(at[i], heights[i] + depth);
  const [c, s] = to;
  // The outline stands upright along the stroke; its prism's third axis is forward × up.
  return scope.prism([Float64Array.from(outline)], width).transform(
    new Float64Array([c, 0, s, from[0] - (width / 2) * s, s, 0, -c, from[1] + (width / 2) * c, 0, 1, 0, 0, 0, 0, 0, 1]),
  );
}

/** The least z of the surface at points given as x, y; Infinity where there is none. */
function lowestAt({ positions: p, triangles }: Mesh, points: Float64Array): Float64Array {
  const out = new Float64Array(points.length / 2).fill(Infinity);
  const { minX, minY, maxX, maxY } = planeBounds(points);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    if (Math.max(p[a], p[b], p[c]) < minX || Math.min(p[a], p[b], p[c]) > maxX) continue;
    if (Math.max(p[a + 1], p[b + 1], p[c + 1]) < minY || Math.min(p[a + 1], p[b + 1], p[c + 1]) > maxY) continue;
    const abx = p[b] - p[a];
    const aby = p[b + 1] - p[a + 1];
    const acx = p[c] - p[a];
    const acy = p[c + 1] - p[a + 1];
    const area = abx * acy - aby * acx;
    if (area === 0) continue;
    for (let i = 0; i < out.length; i++) {
      const dx = points[2 * i] - p[a];
      const dy = points[2 * i + 1] - p[a + 1];
      const beta = (dx * acy - dy * acx) / area;
      const gamma = (abx * dy - aby * dx) / area;
      if (beta < 0 || gamma < 0 || beta + gamma > 1) continue;
      out[i] = Math.min(out[i], p[a + 2] + beta * (p[b + 2] - p[a + 2]) + gamma * (p[c + 2] - p[a + 2]));
    }
  }
  return out;
}
