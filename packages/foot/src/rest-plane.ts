/** The plane z = a·x + b·y + c. */
export interface Plane {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** A plane with the three points that carry it, by their place among the points. */
export interface CarriedPlane extends Plane {
  readonly carriers: readonly number[];
}

/** How far outside the cast helper points stand, as multiples of its extent, and how steep they rise: above every facet but a wall. */
const FAR = 1e2;
const STEEP = 1e2;

/**
 * The supporting plane of the lower convex hull under (x, y): of all planes that have every point on or above them,
 * the one that is highest at (x, y). Solved as a linear programme of three variables by exchange: the facet through
 * three points is exchanged for one through the point that lies deepest below it, until none does.
 *
 * @param positions x, y, z of the points, z roughly up
 * @returns the plane and the three points that carry it; null where (x, y) lies outside the points' outline, so that no plane under
 * it is carried by three
 */
export function restPlaneUnder(positions: Float64Array, x: number, y: number): CarriedPlane | null {
  const extent = extentRound(positions, x, y);
  const scale = FAR * extent;
  const helpers = [
    [x + 2 * scale, y, STEEP * scale],
    [x - scale, y + 2 * scale, STEEP * scale],
    [x - scale, y - 2 * scale, STEEP * scale],
  ];
  const point = (i: number): number[] =>
    i < 0 ? helpers[-1 - i] : [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];

  let carriers = [-1, -2, -3];
  let plane = planeThrough(carriers.map(point));
  const tolerance = 1e-12 * extent;
  for (let round = 0; round < 1000; round++) {
    const deepest = deepestUnder(positions, plane.a, plane.b, plane.c, tolerance);
    if (deepest < 0 || carriers.includes(deepest)) {
      return carriers.some((i) => i < 0) ? null : { ...plane, carriers };
    }
    const exchanged = exchange(carriers, deepest, point, x, y);
    if (exchanged === null) return { ...plane, carriers };
    carriers = exchanged;
    plane = planeThrough(carriers.map(point));
  }
  return null;
}

/** The farthest that a point lies from (x, y, 0) along an axis; at least 1. */
function extentRound(positions: Float64Array, x: number, y: number): number {
  let extent = 1;
  for (let i = 0; i < positions.length; i += 3) {
    extent = Math.max(extent, Math.abs(positions[i] - x), Math.abs(positions[i + 1] - y), Math.abs(positions[i + 2]));
  }
  return extent;
}

/** The point that lies deepest below the plane, and by more than the tolerance; −1 where none does. */
function deepestUnder(positions: Float64Array, a: number, b: number, c: number, tolerance: number): number {
  let deepest = -1;
  let depth = -tolerance;
  for (let k = 0; k < positions.length; k += 3) {
    const over = positions[k + 2] - a * positions[k] - b * positions[k + 1] - c;
    if (over < depth) {
      depth = over;
      deepest = k;
    }
  }
  return deepest < 0 ? -1 : deepest / 3;
}

/** Of the three triangles of the new point with two carriers, the one over (x, y). */
function exchange(carriers: number[], entering: number, point: (i: number) => number[], x: number, y: number): number[] | null {
  let best: number[] | null = null;
  let bestInside = -Infinity;
  for (let out = 0; out < 3; out++) {
    const trio = carriers.map((c, k) => (k === out ? entering : c));
    const [p, q, r] = trio.map(point);
    const area = cross(p, q, r[0], r[1]);
    if (area === 0) continue;
    const inside = Math.min(cross(p, q, x, y) / area, cross(q, r, x, y) / area, cross(r, p, x, y) / area);
    if (inside > bestInside) {
      bestInside = inside;
      best = trio;
    }
  }
  return best;
}

const cross = (p: number[], q: number[], x: number, y: number): number =>
  (q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0]);

function planeThrough([p, q, r]: number[][]): Plane {
  const ux = q[0] - p[0];
  const uy = q[1] - p[1];
  const uz = q[2] - p[2];
  const vx = r[0] - p[0];
  const vy = r[1] - p[1];
  const vz = r[2] - p[2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const a = -nx / nz;
  const b = -ny / nz;
  return { a, b, c: p[2] - a * p[0] - b * p[1] };
}
