import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

type Vector = readonly [number, number, number];

/** Where the plane `normal`·p = `offset` cuts the triangles: x, y, z pairs of segment ends (6 numbers a segment). */
export interface Cut {
  readonly segments: Float64Array;
  /** The mesh edges that the ends lie on, as low vertex × 2³² … high vertex keys; 2 a segment. */
  readonly edges: Float64Array;
}

/** All triangles tried one by one; vertices on the plane count as above it. */
export function cut(mesh: Mesh, normal: Vector, offset: number): Cut {
  const { positions, triangles } = mesh;
  const height = new Float64Array(positions.length / 3);
  for (let v = 0; v < height.length; v++) {
    height[v] = normal[0] * positions[3 * v] + normal[1] * positions[3 * v + 1] + normal[2] * positions[3 * v + 2] - offset;
  }
  const segments: number[] = [];
  const edges: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const below = (height[triangles[t]] < 0 ? 1 : 0) + (height[triangles[t + 1]] < 0 ? 1 : 0) + (height[triangles[t + 2]] < 0 ? 1 : 0);
    if (below === 0 || below === 3) continue;
    for (let k = 0; k < 3; k++) {
      const a = Math.min(triangles[t + k], triangles[t + ((k + 1) % 3)]);
      const b = Math.max(triangles[t + k], triangles[t + ((k + 1) % 3)]);
      if (height[a] < 0 === height[b] < 0) continue;
      const s = height[a] / (height[a] - height[b]);
      for (let c = 0; c < 3; c++) segments.push(positions[3 * a + c] + s * (positions[3 * b + c] - positions[3 * a + c]));
      edges.push(a * 4294967296 + b);
    }
  }
  return { segments: Float64Array.from(segments), edges: Float64Array.from(edges) };
}

/** The loop of a cut that passes nearest to `point`, or null where that line is open (it ends at a boundary). */
export function loopAt(section: Cut, point: ArrayLike<number>): Float64Array | null {
  const parent = new Map<number, number>();
  const count = new Map<number, number>();
  const find = (edge: number): number => {
    let root = edge;
    while (parent.get(root) !== root) root = parent.get(root) as number;
    let e = edge;
    while (parent.get(e) !== root) {
      const up = parent.get(e) as number;
      parent.set(e, root);
      e = up;
    }
    return root;
  };
  const { edges, segments } = section;
  for (const edge of edges) {
    if (!parent.has(edge)) parent.set(edge, edge);
    count.set(edge, (count.get(edge) ?? 0) + 1);
  }
  for (let i = 0; i < edges.length; i += 2) parent.set(find(edges[i]), find(edges[i + 1]));
  let best = Infinity;
  let chosen = -1;
  for (let i = 0; i < edges.length; i++) {
    const d = Math.hypot(segments[3 * i] - point[0], segments[3 * i + 1] - point[1], segments[3 * i + 2] - point[2]);
    if (d < best) {
      best = d;
      chosen = find(edges[i]);
    }
  }
  if (chosen < 0) return null;
  const out: number[] = [];
  for (let i = 0; i < edges.length; i++) {
    if (find(edges[i]) !== chosen) continue;
    if (count.get(edges[i]) === 1) return null;
    out.push(segments[3 * i], segments[3 * i + 1], segments[3 * i + 2]);
  }
  return Float64Array.from(out);
}

/** Points (x, y, z) written in the plane axes `u` and `v`. */
export function inPlane(points: Float64Array, u: Vector, v: Vector): Float64Array {
  const out = new Float64Array((points.length / 3) * 2);
  for (let i = 0, o = 0; i < points.length; i += 3, o += 2) {
    out[o] = points[i] * u[0] + points[i + 1] * u[1] + points[i + 2] * u[2];
    out[o + 1] = points[i] * v[0] + points[i + 1] * v[1] + points[i + 2] * v[2];
  }
  return out;
}
