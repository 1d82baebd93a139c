import type { Mesh } from '../mesh/mesh.js';

/**
 * The mesh with an opening closed by a shallow cone: every edge of the loop joined to one new vertex, which lies over the
 * loop's middle as high along `up` as the loop's highest point. Over a ragged edge that is seen from above as a star-shaped
 * loop the cone crosses nothing, where triangles between the loop's own vertices may.
 *
 * @param loop vertices of the boundary in the order in which `boundaryLoops` gives them
 * @param up unit 3-vector that points out of the opening
 */
export function capCone({ positions, triangles }: Mesh, loop: Uint32Array, up: ArrayLike<number>): Mesh {
  const middle = [0, 0, 0];
  let length = 0;
  let highest = -Infinity;
  for (let i = 0; i < loop.length; i++) {
    const a = 3 * loop[i];
    const b = 3 * loop[(i + 1) % loop.length];
    const edge = Math.hypot(positions[b] - positions[a], positions[b + 1] - positions[a + 1], positions[b + 2] - positions[a + 2]);
    for (let k = 0; k < 3; k++) middle[k] += (edge * (positions[a + k] + positions[b + k])) / 2;
    length += edge;
    highest = Math.max(highest, up[0] * positions[a] + up[1] * positions[a + 1] + up[2] * positions[a + 2]);
  }
  const apex = middle.map((c) => c / length);
  const rise = highest - (up[0] * apex[0] + up[1] * apex[1] + up[2] * apex[2]);
  const out = new Float64Array(positions.length + 3);
  out.set(positions);
  for (let k = 0; k < 3; k++) out[positions.length + k] = apex[k] + rise * up[k];
  const closed = new Uint32Array(triangles.length + 3 * loop.length);
  closed.set(triangles);
  loop.forEach((v, i) => closed.set([loop[(i + 1) % loop.length], v, positions.length / 3], triangles.length + 3 * i));
  return { positions: out, triangles: closed };
}
