import type { Mesh } from '../mesh.js';
import { grouped } from './mesh-file.js';

/** The mesh without the vertices that no triangle uses, in the old order, and how many these were. */
export function dropUnused(mesh: Mesh): { mesh: Mesh; unused: number } {
  const vertices = mesh.positions.length / 3;
  const place = new Uint32Array(vertices);
  for (const v of mesh.triangles) place[v] = 1;
  let kept = 0;
  for (let v = 0; v < vertices; v++) kept += place[v];
  if (kept === vertices) return { mesh, unused: 0 };
  const positions = new Float64Array(3 * kept);
  let next = 0;
  for (let v = 0; v < vertices; v++) {
    if (place[v] === 0) continue;
    for (let k = 0; k < 3; k++) positions[3 * next + k] = mesh.positions[3 * v + k];
    place[v] = next++;
  }
  const triangles = new Uint32Array(mesh.triangles.length);
  for (let i = 0; i < triangles.length; i++) triangles[i] = place[mesh.triangles[i]];
  return { mesh: { positions, triangles }, unused: vertices - kept };
}

export const unusedNote = (unused: number): string => `${grouped(unused)} points of the file belong to no triangle; they were left out.`;
