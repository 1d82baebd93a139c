import type { Mesh } from '../mesh/mesh.js';
import { triangleCount } from '../mesh/mesh.js';
import { meanEdgeLength } from '../mesh/quantities.js';
import { TriangleGrid } from '../mesh/triangle-grid.js';
import { trianglesCross } from './triangles-cross.js';
import { partedInPlan } from './triangles-parted.js';

/** Edge of a cell of the grid over the mean length of the edges. */
const CELL = 2;

/**
 * The triangles that cross another one, one byte each. Those of `among` lie in a hash grid and all others pass by it: near
 * linear where the edges are of about one length.
 *
 * @param among one byte a triangle: crossings are sought between these and all others; all where absent
 */
export function selfCrossings(mesh: Mesh, among?: Uint8Array): Uint8Array {
  const count = triangleCount(mesh);
  const crossing = new Uint8Array(count);
  if (count === 0 || among?.includes(1) === false) return crossing;
  const { positions: p, triangles } = mesh;
  const grid = new TriangleGrid(mesh, CELL * meanEdgeLength(mesh), among);
  for (let t = 0; t < count; t++) {
    const near = grid.near(t, among === undefined || among[t] === 1 ? t : count);
    for (let i = 0; i < near; i++) {
      const s = grid.found[i];
      if (partedInPlan(p, triangles, s, t) || !trianglesCross(p, triangles, t, s)) continue;
      crossing[s] = 1;
      crossing[t] = 1;
    }
  }
  return crossing;
}
