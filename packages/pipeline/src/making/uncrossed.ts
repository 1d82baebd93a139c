import type { Mesh } from '@cast-to-last/geometry/mesh';
import { selfCrossings } from '@cast-to-last/geometry/self-crossings';
import { vertexNeighbours } from '@cast-to-last/geometry/topology';

export const UNCROSSED = {
  /** How far the corners of triangles that cross are drawn back, mm; twice as far each round. */
  step: 1e-3,
  rounds: 5,
} as const;

/**
 * A closed surface whose triangles cross nowhere: where a hollow all but touches itself, its tips may reach a thousandth of
 * a millimetre through each other. Their corners are drawn back towards the middle of their neighbours until they do not.
 */
export function uncrossed(mesh: Mesh): Mesh {
  let { positions } = mesh;
  const { triangles } = mesh;
  const { offsets, items } = vertexNeighbours(mesh);
  for (let round = 0; round < UNCROSSED.rounds; round++) {
    const crossing = selfCrossings({ positions, triangles });
    if (!crossing.includes(1)) break;
    const corners = new Set(triangles.filter((_, h) => crossing[Math.floor(h / 3)] === 1));
    const moved = positions.slice();
    for (const v of corners) {
      const around = items.subarray(offsets[v], offsets[v + 1]);
      const way = [0, 1, 2].map((k) => around.reduce((sum, n) => sum + positions[3 * n + k], 0) / around.length - positions[3 * v + k]);
      const length = Math.hypot(...way) || 1;
      for (let k = 0; k < 3; k++) moved[3 * v + k] = Math.fround(moved[3 * v + k] + (UNCROSSED.step * 2 ** round * way[k]) / length);
    }
    positions = moved;
  }
  return positions === mesh.positions ? mesh : { positions, triangles };
}
