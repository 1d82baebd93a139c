import { compactVertices } from '../mesh/components.js';
import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import { grouped } from './mesh-file.js';

/** The mesh without the vertices that no triangle uses, in the old order, and how many these were. */
export function dropUnused(mesh: Mesh): { mesh: Mesh; unused: number } {
  const compact = compactVertices(mesh);
  return { mesh: compact, unused: vertexCount(mesh) - vertexCount(compact) };
}

export const unusedNote = (unused: number): string => `${grouped(unused)} points of the file belong to no triangle; they were left out.`;
