import type { Mesh } from '../mesh/mesh.js';
import { selfCrossings } from './self-crossings.js';
import type { Rows } from '../mesh/topology.js';
import { vertexNeighbours } from '../mesh/topology.js';

export const UNCROSSED = {
  /** How far the corners of triangles that cross are drawn back, mm; twice as far each round, and never beyond the middle. */
  step: 1e-3,
  rounds: 9,
} as const;

/**
 * A closed surface whose triangles cross nowhere: where one all but touches itself, or slivers lie along an edge, tips may
 * reach a few thousandths of a millimetre through each other. Their corners are drawn back towards the middle of their
 * neighbours until they do not, or the rounds are over.
 *
 * @param among one byte a triangle: only the corners of these are moved, and crossings sought of them alone; all where absent
 */
export function uncrossed(mesh: Mesh, among?: Uint8Array): Mesh {
  let { positions } = mesh;
  const { triangles } = mesh;
  let neighbours: Rows | null = null;
  let asked = among;
  for (let round = 0; round < UNCROSSED.rounds; round++) {
    const crossing = selfCrossings({ positions, triangles }, asked);
    if (!crossing.includes(1)) break;
    const corners = new Set(triangles.filter((_, h) => crossing[Math.floor(h / 3)] === 1 && among?.[Math.floor(h / 3)] !== 0));
    const { offsets, items } = (neighbours ??= vertexNeighbours(mesh));
    const moved = positions.slice();
    for (const v of corners) {
      const around = items.subarray(offsets[v], offsets[v + 1]);
      const way = [0, 1, 2].map((k) => around.reduce((sum, n) => sum + positions[3 * n + k], 0) / around.length - positions[3 * v + k]);
      const length = Math.hypot(...way) || 1;
      for (let k = 0; k < 3; k++) moved[3 * v + k] = Math.fround(moved[3 * v + k] + Math.min(1, (UNCROSSED.step * 2 ** round) / length) * way[k]);
    }
    positions = moved;
    // What was not moved crosses nothing new.
    asked = new Uint8Array(crossing.length);
    for (let h = 0; h < triangles.length; h++) if (corners.has(triangles[h])) asked[Math.floor(h / 3)] = 1;
  }
  return positions === mesh.positions ? mesh : { positions, triangles };
}
