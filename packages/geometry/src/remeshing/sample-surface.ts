import type { Mesh } from '../mesh/mesh.js';
import { triangleNormals } from '../mesh/quantities.js';

/** Points spread evenly over a surface. */
export interface SurfaceSamples {
  /** x, y, z of each point; length 3 × points. */
  readonly points: Float64Array;
  /** Unit normal of the triangle that each point lies on; length 3 × points. */
  readonly normals: Float64Array;
  /** Area of the whole surface, in the square of the mesh's unit. */
  readonly area: number;
}

/** Steps of the two-dimensional golden-ratio sequence (M. Roberts, 2018, extremelearning.com.au). */
const STEP_U = 0.7548776662466927;
const STEP_V = 0.5698402909980532;

/** About `count` points, each standing for the same area, always the same ones for the same mesh. Empty without area. */
export function sampleSurface(mesh: Mesh, count: number): SurfaceSamples {
  const { positions: p, triangles: t } = mesh;
  const cross = triangleNormals(mesh);
  const doubled = new Float64Array(t.length / 3);
  let total = 0;
  for (let i = 0; i < t.length; i += 3) {
    doubled[i / 3] = Math.sqrt(cross[i] * cross[i] + cross[i + 1] * cross[i + 1] + cross[i + 2] * cross[i + 2]);
    total += doubled[i / 3];
  }
  if (!(total > 0)) return { points: new Float64Array(0), normals: new Float64Array(0), area: 0 };
  const points = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  const step = total / count;
  let sum = 0;
  let n = 0;
  for (let i = 0; i < t.length && n < count; i += 3) {
    sum += doubled[i / 3];
    if (sum <= (n + 0.5) * step) continue;
    for (; n < count && sum > (n + 0.5) * step; n++) {
      let u = (n * STEP_U) % 1;
      let v = (n * STEP_V) % 1;
      if (u + v > 1) {
        u = 1 - u;
        v = 1 - v;
      }
      for (let k = 0; k < 3; k++) {
        const a = p[3 * t[i] + k];
        points[3 * n + k] = a + u * (p[3 * t[i + 1] + k] - a) + v * (p[3 * t[i + 2] + k] - a);
        normals[3 * n + k] = cross[i + k] / doubled[i / 3];
      }
    }
  }
  return { points: points.subarray(0, 3 * n), normals: normals.subarray(0, 3 * n), area: total / 2 };
}
