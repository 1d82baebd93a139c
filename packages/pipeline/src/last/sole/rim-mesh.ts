import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { EDGE_SECTION } from './edge-sections.js';
import type { OutlineIndex } from './outline-index.js';
import { soleCeiling } from './sole-map.js';

/** The part of a mesh in which sections of the sole's edge lie, with the mesh's own vertices: a leg takes no part in them. */
export function rimMesh({ positions: p, triangles: t }: Mesh, index: OutlineIndex, footLength: number): Mesh {
  const near = new Uint8Array(p.length / 3);
  for (let v = 0; v < near.length; v++) {
    const x = p[3 * v];
    if (p[3 * v + 2] <= soleCeiling(x, footLength) + EDGE_SECTION.upward && index.reaches(x, p[3 * v + 1])) near[v] = 1;
  }
  const kept = new Uint32Array(t.length);
  let size = 0;
  for (let f = 0; f < t.length; f += 3) {
    if (near[t[f]] + near[t[f + 1]] + near[t[f + 2]] < 3) continue;
    kept[size++] = t[f];
    kept[size++] = t[f + 1];
    kept[size++] = t[f + 2];
  }
  return { positions: p, triangles: kept.slice(0, size) };
}
