import type { Mesh } from './mesh.js';

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
  const doubled = new Float64Array(t.length / 3);
  const cross = [0, 0, 0];
  const setCross = (i: number): void => {
    const a = 3 * t[i];
    const b = 3 * t[i + 1];
    const c = 3 * t[i + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const wx = p[c] - p[a];
    const wy = p[c + 1] - p[a + 1];
    const wz = p[c + 2] - p[a + 2];
    cross[0] = uy * wz - uz * wy;
    cross[1] = uz * wx - ux * wz;
    cross[2] = ux * wy - uy * wx;
  };
  let total = 0;
  for (let i = 0; i < t.length; i += 3) {
    setCross(i);
    doubled[i / 3] = Math.sqrt(cross[0] * cross[0] + cross[1] * cross[1] + cross[2] * cross[2]);
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
    setCross(i);
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
        normals[3 * n + k] = cross[k] / doubled[i / 3];
      }
    }
  }
  return { points: points.subarray(0, 3 * n), normals: normals.subarray(0, 3 * n), area: total / 2 };
}
