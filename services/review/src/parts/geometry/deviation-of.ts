import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { surfaceDeviation } from '@cast-to-last/geometry/distance/surface-deviation';
import { surfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import type { SurfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import { transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { NOTHING } from './calls.js';
import type { Calls, DeviationAsked } from './calls.js';
import { bodyOf } from './kept-bodies.js';

/** The last targets: both levels of both feet ask of the same. */
const targets: { key: string; target: SurfaceTarget }[] = [];

/** By the registration of the comparison; the surfaces are those that are shown. */
export function deviationOf(asked: DeviationAsked): ReturnType<Calls['deviation']> {
  const [first, second] = [bodyOf(asked.first), bodyOf(asked.second)];
  if (first === undefined || second === undefined) return null;
  const transform = Float64Array.from(asked.transform);
  const flip = (positions: ArrayLike<number>): Float64Array => Float64Array.from(positions, (c, i) => (asked.mirrored && i % 3 === 1 ? -c : c));
  const target = remembered(`${asked.of} ${asked.first} ${asked.second} ${transform.join()} ${first.mesh.positions.length} ${second.mesh.positions.length}`, () =>
    asked.of === 'first' ? second.mesh : transformMesh(transform, { positions: flip(first.mesh.positions), triangles: asked.mirrored ? turned(first.mesh.triangles) : first.mesh.triangles }));
  const points = asked.of === 'second' ? Float64Array.from(asked.positions) : transformPositions(transform, flip(asked.positions));
  const normals = asked.of === 'second' ? Float64Array.from(asked.normals) : directions(transform, flip(asked.normals));
  return Float32Array.from(surfaceDeviation(points, normals, target), (d) => (Number.isNaN(d) ? NOTHING : d));
}

function remembered(key: string, mesh: () => Mesh): SurfaceTarget {
  const there = targets.find((kept) => kept.key === key);
  if (there !== undefined) return there.target;
  const target = surfaceTarget(mesh());
  targets.push({ key, target });
  if (targets.length > 2) targets.shift();
  return target;
}

function turned(triangles: Uint32Array): Uint32Array {
  const out = triangles.slice();
  for (let t = 0; t < out.length; t += 3) [out[t + 1], out[t + 2]] = [out[t + 2], out[t + 1]];
  return out;
}

/** Turned, not moved. */
function directions(transform: Float64Array, vectors: Float64Array): Float64Array {
  const turn = transform.slice();
  turn[3] = turn[7] = turn[11] = 0;
  return transformPositions(turn, vectors);
}
