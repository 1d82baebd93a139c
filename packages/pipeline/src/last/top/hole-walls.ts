import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { FlatTop } from './flat-top.js';

/** A round hole drilled into the flat top at right angles; its middle in the plane's u and v; mm. */
export interface TopHole {
  readonly u: number;
  readonly v: number;
  readonly radius: number;
  readonly depth: number;
}

/** How small a piece of a triangle is taken as a point, mm. */
const POINT = 0.02;

/**
 * The thinnest wall that a hole leaves to the surface beside and below it, up to `limit`; 0 where it breaks through. Exact to
 * 0.02 mm. The flat top itself, which the hole opens, does not count.
 */
export function wallAround(mesh: Mesh, { plane, outline }: FlatTop, hole: TopHole, limit: number): number {
  if (!isInside(outline, hole.u, hole.v)) return 0;
  const { positions: p, triangles } = mesh;
  const { normal: n, forward: f, offset } = plane;
  let least = limit;
  const distance = (x: number, y: number, z: number): number => {
    const down = offset - n[0] * x - n[2] * z;
    const du = f[0] * x + f[2] * z - hole.u;
    const dv = y - hole.v;
    const beside = Math.max(0, Math.sqrt(du * du + dv * dv) - hole.radius);
    const beyond = Math.max(0, -down, down - hole.depth);
    return Math.sqrt(beside * beside + beyond * beyond);
  };
  const visit = (a: ArrayLike<number>, b: ArrayLike<number>, c: ArrayLike<number>): void => {
    const m = [0, 1, 2].map((k) => (a[k] + b[k] + c[k]) / 3);
    const reach = Math.max(...[a, b, c].map((q) => Math.hypot(q[0] - m[0], q[1] - m[1], q[2] - m[2])));
    const d = distance(m[0], m[1], m[2]);
    if (d - reach >= least) return;
    least = Math.min(least, d, distance(a[0], a[1], a[2]), distance(b[0], b[1], b[2]), distance(c[0], c[1], c[2]));
    if (reach < POINT || least === 0) return;
    const ab = middle(a, b);
    const bc = middle(b, c);
    const ca = middle(c, a);
    visit(ab, bc, ca);
    visit(a, ab, ca);
    visit(ab, b, bc);
    visit(ca, bc, c);
  };
  for (let t = 0; t < triangles.length && least > 0; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    // Most triangles lie far below the hole, with all corners.
    const lowest = offset - hole.depth - least;
    if (n[0] * p[a] + n[2] * p[a + 2] < lowest && n[0] * p[b] + n[2] * p[b + 2] < lowest && n[0] * p[c] + n[2] * p[c + 2] < lowest) continue;
    // A first look without arrays: of the rest most are far off, too.
    const x = p[a];
    const y = p[a + 1];
    const z = p[a + 2];
    const bx = p[b] - x;
    const by = p[b + 1] - y;
    const bz = p[b + 2] - z;
    const cx = p[c] - x;
    const cy = p[c + 1] - y;
    const cz = p[c + 2] - z;
    const side = Math.sqrt(Math.max(bx * bx + by * by + bz * bz, cx * cx + cy * cy + cz * cz));
    if (distance(x, y, z) - side >= least) continue;
    if ([a, b, c].every((i) => Math.abs(n[0] * p[i] + n[2] * p[i + 2] - offset) < 1e-3)) continue;
    visit(p.subarray(a, a + 3), p.subarray(b, b + 3), p.subarray(c, c + 3));
  }
  return least;
}

const middle = (a: ArrayLike<number>, b: ArrayLike<number>): number[] => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];

/** Whether a point lies inside a closed line of u, v pairs. */
export function isInside(outline: Float64Array, u: number, v: number): boolean {
  let inside = false;
  for (let i = 0, j = outline.length - 2; i < outline.length; j = i, i += 2) {
    if (outline[i + 1] > v === outline[j + 1] > v) continue;
    if (u < outline[i] + ((v - outline[i + 1]) / (outline[j + 1] - outline[i + 1])) * (outline[j] - outline[i])) inside = !inside;
  }
  return inside;
}
