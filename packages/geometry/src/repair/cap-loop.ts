import type { Mesh } from '../mesh/mesh.js';
import { triangleCount, vertexCount } from '../mesh/mesh.js';
import { vertexNormals } from '../mesh/quantities.js';
import { nextHalfedge } from '../mesh/topology.js';
import { meanPlane, triangulateLoop } from './triangulate-loop.js';
import { gather } from '../mesh/gather.js';

/**
 * The mesh with one boundary loop closed by a cap of as few triangles as can be: flat where the loop is flat. The mesh's
 * own vertices and triangles come first and are unchanged; a vertex is added only where a chord of the cap would lie on an
 * edge that the surface already has; it stands out a little, for two sheets on one another are no solid.
 *
 * @param loop vertices of the boundary in the order of its halfedges, the surface on their left
 */
export function capLoop(mesh: Mesh, loop: Uint32Array): Mesh {
  const around = loop.slice().reverse();
  const points = gather(mesh.positions, around);
  const beside = trianglesAt(mesh, loop);
  const normals = gather(vertexNormals(beside), around);
  const chords = Array.from(triangulateLoop(points, normals).triangles, (i) => around[i]);
  const outward = meanPlane(points)?.subarray(6, 9) ?? new Float64Array(3);
  const added = splitTakenChords(beside, loop, chords, outward);
  const positions = new Float64Array(mesh.positions.length + added.length);
  positions.set(mesh.positions);
  positions.set(added, mesh.positions.length);
  const triangles = new Uint32Array(mesh.triangles.length + chords.length);
  triangles.set(mesh.triangles);
  triangles.set(chords, mesh.triangles.length);
  return { positions, triangles };
}

/** The mesh with no triangles but those at vertices of the loop: the cap asks for no more. */
function trianglesAt({ positions, triangles }: Mesh, loop: Uint32Array): Mesh {
  const onLoop = new Uint8Array(positions.length / 3);
  for (const v of loop) onLoop[v] = 1;
  const found: number[] = [];
  for (let h = 0; h < triangles.length; h += 3) {
    if (onLoop[triangles[h]] + onLoop[triangles[h + 1]] + onLoop[triangles[h + 2]] > 0) found.push(triangles[h], triangles[h + 1], triangles[h + 2]);
  }
  return { positions, triangles: Uint32Array.from(found) };
}

/** How far a vertex added on a chord stands out, as a share of the chord. */
const STAND_OUT = 0.05;

/** Splits, in place, each chord that joins two vertices which an edge of the surface joins already; the midpoints' coordinates. */
function splitTakenChords(mesh: Mesh, loop: Uint32Array, cap: number[], outward: Float64Array): number[] {
  const count = vertexCount(mesh);
  const onLoop = new Uint8Array(count);
  for (const v of loop) onLoop[v] = 1;
  const rim = new Set<number>();
  loop.forEach((v, i) => rim.add(edgeKey(v, loop[(i + 1) % loop.length], count)));
  const taken = new Set<number>();
  for (let h = 0; h < 3 * triangleCount(mesh); h++) {
    const a = mesh.triangles[h];
    const b = mesh.triangles[nextHalfedge(h)];
    if (onLoop[a] === 1 && onLoop[b] === 1 && !rim.has(edgeKey(a, b, count))) taken.add(edgeKey(a, b, count));
  }
  const added: number[] = [];
  const middles = new Map<number, number>();
  for (let h = 0; h < cap.length; h++) {
    const a = cap[h];
    const b = cap[nextHalfedge(h)];
    if (Math.max(a, b) >= count || !taken.has(edgeKey(a, b, count))) continue;
    let middle = middles.get(edgeKey(a, b, count));
    if (middle === undefined) {
      middle = count + added.length / 3;
      middles.set(edgeKey(a, b, count), middle);
      const pa = mesh.positions.subarray(3 * a, 3 * a + 3);
      const pb = mesh.positions.subarray(3 * b, 3 * b + 3);
      const out = STAND_OUT * Math.hypot(pb[0] - pa[0], pb[1] - pa[1], pb[2] - pa[2]);
      for (let k = 0; k < 3; k++) added.push((pa[k] + pb[k]) / 2 + out * outward[k]);
    }
    const opposite = cap[nextHalfedge(nextHalfedge(h))];
    cap[nextHalfedge(h)] = middle;
    cap.push(middle, b, opposite);
  }
  return added;
}

const edgeKey = (a: number, b: number, count: number): number => Math.min(a, b) * count + Math.max(a, b);
