import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { Landmarks } from '../landmarks.js';
import type { Side } from '../side.js';

/** What position is read from: a cast that stands in its settled foot frame, noise taken off, vertices about 2 mm apart. */
export interface StandingCast {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  readonly side: Side;
  readonly landmarks: Landmarks;
  /** Unit normals of the vertices, outward; length 3 × vertices. */
  readonly normals: Float64Array;
  /** Each vertex's share of the surface, mm². */
  readonly areas: Float64Array;
  /** One byte a vertex: 1 where the surface is not to be leaned on, because repair made it or a mark lies there. */
  readonly unsure: Uint8Array;
  /** Height up to which the cast is whole all round, mm. */
  readonly wholeTo: number;
}

/** Shares of the surface and unit normals of the vertices of a mesh. */
export function surfaceAtVertices(mesh: Mesh): Pick<StandingCast, 'normals' | 'areas'> {
  const faces = triangleNormals(mesh);
  const { triangles: t, positions } = mesh;
  const normals = new Float64Array(positions.length);
  const areas = new Float64Array(positions.length / 3);
  for (let f = 0; f < t.length; f += 3) {
    const third = Math.sqrt(faces[f] * faces[f] + faces[f + 1] * faces[f + 1] + faces[f + 2] * faces[f + 2]) / 6;
    for (let h = f; h < f + 3; h++) {
      areas[t[h]] += third;
      for (let k = 0; k < 3; k++) normals[3 * t[h] + k] += faces[f + k];
    }
  }
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.sqrt(normals[i] * normals[i] + normals[i + 1] * normals[i + 1] + normals[i + 2] * normals[i + 2]);
    if (length > 0) for (let k = 0; k < 3; k++) normals[i + k] /= length;
  }
  return { normals, areas };
}
