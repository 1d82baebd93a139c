import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import { rimShape } from '@cast-to-last/geometry/repair/rim-shape';
import { boundaryLoops, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';

/** The flat edge of the wall at the top of a shell: a strip along the opening that lies across it. */
export const RIM_DEFAULTS = {
  /** Shortest tape round an opening, mm. */
  tape: 115,
  /** Widest wall, mm. */
  widest: 16,
  /** Cosine between the strip's normal and the opening's. */
  across: 0.7,
  /** Share of the edge that the strip must run along. */
  share: 0.4,
} as const;

/** One byte a triangle: 0 on the flat edge of a shell's wall round its opening; null where no such edge was scanned. */
export function withoutRimStrip(mesh: Mesh, twin: Int32Array): Uint8Array | null {
  const d = RIM_DEFAULTS;
  const around = vertexTriangles(mesh);
  const faces = triangleNormals(mesh);
  const { positions: p, triangles } = mesh;
  for (const loop of boundaryLoops(mesh, twin)) {
    const shape = loop.length < 8 ? null : rimShape(mesh, around, loop);
    if (shape === null || shape.tape < d.tape) continue;
    const [x, y, z] = shape.normal;
    const flat = (t: number): boolean => {
      const a = faces[3 * t];
      const b = faces[3 * t + 1];
      const c = faces[3 * t + 2];
      return Math.abs(a * x + b * y + c * z) >= d.across * Math.sqrt(a * a + b * b + c * c);
    };
    const onLoop = new Set(loop);
    const keep = new Uint8Array(triangleCount(mesh)).fill(1);
    const queue: number[] = [];
    let edges = 0;
    for (let h = 0; h < twin.length; h++) {
      if (twin[h] >= 0 || !onLoop.has(triangles[h])) continue;
      edges++;
      const t = (h / 3) | 0;
      if (!flat(t)) continue;
      if (keep[t] === 1) queue.push(t);
      keep[t] = 0;
    }
    if (queue.length < d.share * edges) continue;
    const height = (t: number): number => {
      const v = 3 * triangles[3 * t];
      return x * (p[v] - shape.centre[0]) + y * (p[v + 1] - shape.centre[1]) + z * (p[v + 2] - shape.centre[2]);
    };
    for (const t of queue) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const s = twin[h] < 0 ? t : (twin[h] / 3) | 0;
        if (keep[s] === 0 || !flat(s) || Math.abs(height(s)) > d.widest) continue;
        keep[s] = 0;
        queue.push(s);
      }
    }
    return keep;
  }
  return null;
}
