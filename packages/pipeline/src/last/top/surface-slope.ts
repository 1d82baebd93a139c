import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { smoothRing } from './smooth-ring.js';
import type { TopPlane } from './top-plane.js';

export const SLOPE_DEFAULTS = {
  /** Depth of the band below the cut whose surface gives the direction, mm. */
  band: 6,
  /** Standard deviation of the blur along the cut, mm. */
  blur: 5,
  /** Most that is followed, mm sideways a mm of height: inward, outward. */
  inward: 1.4,
  outward: 0.5,
} as const;

/**
 * How the surface goes on at its cut: for each point of a ring, the step in u and v for each mm straight up, and as a third
 * number how much of it is outward (negative: the surface draws in). 3 × points.
 *
 * @param ring even points along the cut, u and v in the plane's axes, turning left seen from above
 * @param length of the ring, mm
 */
export function surfaceSlope(open: Mesh, plane: TopPlane, ring: Float64Array, length: number): Float64Array {
  const count = ring.length / 2;
  const normals = smoothRing(bandNormals(open, plane, ring), 3, SLOPE_DEFAULTS.blur / (length / count));
  const steps = new Float64Array(3 * count);
  const { normal: n, forward: f } = plane;
  for (let i = 0; i < count; i++) {
    const [x, y, z] = normals.subarray(3 * i, 3 * i + 3);
    // What of the surface's normal lies in the plane points outward; straight up has f.z of the plane's u in it.
    const u = f[0] * x + f[2] * z;
    const v = y;
    const w = n[0] * x + n[2] * z;
    const flat = Math.hypot(u, v);
    if (flat < 1e-12) continue;
    const outward = -(w * n[2] + u * f[2]) / flat;
    const kept = Math.max(-SLOPE_DEFAULTS.inward, Math.min(SLOPE_DEFAULTS.outward, outward));
    steps.set([(kept * u) / flat, (kept * v) / flat, kept], 3 * i);
  }
  return smoothRing(steps, 3, SLOPE_DEFAULTS.blur / (length / count));
}

/** Area-weighted normals of the band below the cut, each triangle's given to the ring's point nearest to it. */
function bandNormals({ positions: p, triangles }: Mesh, { normal: n, forward: f, offset }: TopPlane, ring: Float64Array): Float64Array {
  const out = new Float64Array((3 * ring.length) / 2);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const x = (p[a] + p[b] + p[c]) / 3;
    const z = (p[a + 2] + p[b + 2] + p[c + 2]) / 3;
    const depth = offset - n[0] * x - n[2] * z;
    if (depth > SLOPE_DEFAULTS.band) continue;
    const u = f[0] * x + f[2] * z;
    const v = (p[a + 1] + p[b + 1] + p[c + 1]) / 3;
    let near = 0;
    let least = Infinity;
    for (let i = 0; 2 * i < ring.length; i++) {
      const du = ring[2 * i] - u;
      const dv = ring[2 * i + 1] - v;
      const d = du * du + dv * dv;
      if (d < least) {
        near = i;
        least = d;
      }
    }
    const weight = Math.max(0, 1 - depth / SLOPE_DEFAULTS.band);
    const ax = p[b] - p[a];
    const ay = p[b + 1] - p[a + 1];
    const az = p[b + 2] - p[a + 2];
    const bx = p[c] - p[a];
    const by = p[c + 1] - p[a + 1];
    const bz = p[c + 2] - p[a + 2];
    out[3 * near] += weight * (ay * bz - az * by);
    out[3 * near + 1] += weight * (az * bx - ax * bz);
    out[3 * near + 2] += weight * (ax * by - ay * bx);
  }
  return out;
}
