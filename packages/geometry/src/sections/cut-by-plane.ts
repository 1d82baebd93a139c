import type { Mesh } from '../mesh/mesh.js';
import { triangleCount, vertexCount } from '../mesh/mesh.js';

/** Vertices nearer to the plane than this are put on it, mesh unit: far more than a 32-bit coordinate's step, far less than an edge. */
const SNAP = 0.01;

/**
 * The part of a surface with normal · p ≤ offset, open where the plane cut it. Its vertices come in the mesh's order, then
 * those on cut edges; none but those within 0.01 of the plane has moved. What lies flat on the plane is left out.
 *
 * @param normal unit 3-vector
 */
export function cutByPlane(mesh: Mesh, normal: ArrayLike<number>, offset: number): Mesh {
  const { triangles } = mesh;
  const count = vertexCount(mesh);
  const positions = mesh.positions.slice();
  const height = new Float64Array(count);
  for (let v = 0; v < count; v++) {
    const h = normal[0] * positions[3 * v] + normal[1] * positions[3 * v + 1] + normal[2] * positions[3 * v + 2] - offset;
    if (Math.abs(h) >= SNAP) height[v] = h;
    else for (let k = 0; k < 3; k++) positions[3 * v + k] -= h * normal[k];
  }
  const added: number[] = [];
  const onEdge = new Map<number, number>();
  const crossing = (a: number, b: number): number => {
    const [low, high] = a < b ? [a, b] : [b, a];
    const key = low * count + high;
    let v = onEdge.get(key);
    if (v === undefined) {
      v = count + added.length / 3;
      onEdge.set(key, v);
      const s = height[low] / (height[low] - height[high]);
      for (let k = 0; k < 3; k++) added.push(positions[3 * low + k] + s * (positions[3 * high + k] - positions[3 * low + k]));
    }
    return v;
  };
  const kept = new Uint32Array(2 * triangles.length);
  let size = 0;
  const corner = [0, 0, 0, 0];
  for (let t = 0; t < triangleCount(mesh); t++) {
    const a = triangles[3 * t];
    const b = triangles[3 * t + 1];
    const c = triangles[3 * t + 2];
    if (height[a] >= 0 && height[b] >= 0 && height[c] >= 0) continue;
    if (height[a] <= 0 && height[b] <= 0 && height[c] <= 0) {
      kept[size++] = a;
      kept[size++] = b;
      kept[size++] = c;
      continue;
    }
    let corners = 0;
    for (let k = 0; k < 3; k++) {
      const from = triangles[3 * t + k];
      const to = triangles[3 * t + ((k + 1) % 3)];
      if (height[from] <= 0) corner[corners++] = from;
      if (height[from] * height[to] < 0) corner[corners++] = crossing(from, to);
    }
    for (let k = 2; k < corners; k++) {
      kept[size++] = corner[0];
      kept[size++] = corner[k - 1];
      kept[size++] = corner[k];
    }
  }
  return compacted(positions, added, kept.subarray(0, size));
}

function compacted(old: Float64Array, added: readonly number[], triangles: Uint32Array): Mesh {
  const count = old.length / 3;
  const place = new Int32Array(count + added.length / 3).fill(-1);
  for (let h = 0; h < triangles.length; h++) place[triangles[h]] = 0;
  const positions = new Float64Array(old.length + added.length);
  let kept = 0;
  for (let v = 0; v < place.length; v++) {
    if (place[v] < 0) continue;
    for (let k = 0; k < 3; k++) positions[3 * kept + k] = v < count ? old[3 * v + k] : added[3 * (v - count) + k];
    place[v] = kept++;
  }
  const corners = new Uint32Array(triangles.length);
  for (let h = 0; h < corners.length; h++) corners[h] = place[triangles[h]];
  return { positions: positions.slice(0, 3 * kept), triangles: corners };
}
