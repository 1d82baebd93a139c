import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';

/** Where a triangle leans from its corner's normal by more than this, the corner is an edge, radians. */
const EDGE = 0.6;

export interface Drawable {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly triangles: Uint32Array;
}

/** As it is drawn: corners at sharp edges are given to each triangle for itself, so that light does not run over the edge. */
export function withCrispEdges(mesh: Mesh, normals: Float32Array): Drawable {
  const { positions: p, triangles: t } = mesh;
  const faces = triangleNormals(mesh);
  const least = Math.cos(EDGE);
  for (let f = 0; f < faces.length; f += 3) {
    const length = Math.hypot(faces[f], faces[f + 1], faces[f + 2]) || 1;
    for (let k = 0; k < 3; k++) faces[f + k] /= length;
  }
  const triangles = t.slice();
  const corners: number[] = [];
  for (let i = 0; i < t.length; i++) {
    const f = 3 * ((i / 3) | 0);
    const v = 3 * t[i];
    if (faces[f] * normals[v] + faces[f + 1] * normals[v + 1] + faces[f + 2] * normals[v + 2] >= least) continue;
    triangles[i] = p.length / 3 + corners.length;
    corners.push(i);
  }
  const positions = new Float32Array(p.length + 3 * corners.length);
  const own = new Float32Array(positions.length);
  positions.set(p);
  own.set(normals);
  corners.forEach((i, n) => {
    const [from, face, to] = [3 * t[i], 3 * ((i / 3) | 0), p.length + 3 * n];
    for (let k = 0; k < 3; k++) {
      positions[to + k] = p[from + k];
      own[to + k] = faces[face + k];
    }
  });
  return { positions, normals: own, triangles };
}
