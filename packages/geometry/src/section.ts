import type { Mesh } from './mesh.js';
import { triangleCount, vertexCount } from './mesh.js';
import { nextHalfedge } from './topology.js';

/** One curve where a plane meets a surface. */
export interface SectionCurve {
  /** x, y, z of the points in order, where the plane crosses edges. */
  readonly points: Float64Array;
  /** The triangle between point i and point i + 1 (the last one leads back to the first of a closed curve). */
  readonly triangles: Uint32Array;
  readonly closed: boolean;
}

/**
 * The curves where the plane normal · p = offset meets the mesh, longest first. A vertex on the plane counts as above
 * it, so every triangle that is met is met in one segment.
 *
 * @param twin halfedge twins of the mesh (`topology.twins`)
 * @param normal unit 3-vector
 */
export function section(mesh: Mesh, twin: Int32Array, normal: ArrayLike<number>, offset: number): SectionCurve[] {
  const { positions: p, triangles: t } = mesh;
  const [nx, ny, nz] = [normal[0], normal[1], normal[2]];
  const height = new Float64Array(vertexCount(mesh));
  for (let v = 0, i = 0; v < height.length; v++, i += 3) height[v] = nx * p[i] + ny * p[i + 1] + nz * p[i + 2] - offset;

  const visited = new Uint8Array(triangleCount(mesh));
  const curves: SectionCurve[] = [];
  for (let f = 0; f < visited.length; f++) {
    const above = +(height[t[3 * f]] >= 0) + +(height[t[3 * f + 1]] >= 0) + +(height[t[3 * f + 2]] >= 0);
    if (visited[f] === 1 || above === 0 || above === 3) continue;
    curves.push(follow(p, t, twin, height, visited, f));
  }
  return curves.sort((a, b) => b.points.length - a.points.length);
}

/** The halfedge of triangle f by which a walk with "above" on its left leaves it: from an above vertex to one below. */
function exitOf(t: Uint32Array, height: Float64Array, f: number, downward: boolean): number {
  for (let h = 3 * f; h < 3 * f + 3; h++) {
    const from = height[t[h]] >= 0;
    const to = height[t[nextHalfedge(h)]] >= 0;
    if (from !== to && from === downward) return h;
  }
  return -1;
}

function follow(
  p: Float64Array,
  t: Uint32Array,
  twin: Int32Array,
  height: Float64Array,
  visited: Uint8Array,
  start: number,
): SectionCurve {
  const forwardEdges: number[] = [];
  const forwardFaces: number[] = [];
  let closed = false;
  let f = start;
  for (;;) {
    visited[f] = 1;
    forwardFaces.push(f);
    const h = exitOf(t, height, f, true);
    forwardEdges.push(h);
    const next = twin[h] < 0 ? -1 : (twin[h] / 3) | 0;
    if (next === start) closed = true;
    if (next < 0 || visited[next] === 1) break;
    f = next;
  }
  const backwardEdges: number[] = [];
  const backwardFaces: number[] = [];
  if (!closed) {
    f = start;
    for (;;) {
      const h = exitOf(t, height, f, false);
      backwardEdges.push(h);
      const next = twin[h] < 0 ? -1 : (twin[h] / 3) | 0;
      if (next < 0 || visited[next] === 1) break;
      visited[next] = 1;
      backwardFaces.push(next);
      f = next;
    }
  }
  const edges = [...backwardEdges.reverse(), ...forwardEdges];
  const faces = [...backwardFaces.reverse(), ...forwardFaces];
  const points = new Float64Array(3 * edges.length);
  edges.forEach((h, i) => {
    const a = t[h];
    const b = t[nextHalfedge(h)];
    const s = height[a] / (height[a] - height[b]);
    for (let k = 0; k < 3; k++) points[3 * i + k] = p[3 * a + k] + s * (p[3 * b + k] - p[3 * a + k]);
  });
  // Point i of a closed curve is the exit of face i, so the segment from i to i + 1 lies in face i + 1.
  const between = closed ? [...faces.slice(1), faces[0]] : faces;
  return { points, triangles: Uint32Array.from(between), closed };
}
