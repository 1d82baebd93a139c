import type { Mesh } from '../mesh/mesh.js';

export type MeshFormat = 'stl-binary' | 'stl-ascii' | 'ply-ascii' | 'ply-binary-little' | 'ply-binary-big' | 'obj';

/** What a reader found. Coordinates are the file's own numbers, in no known unit. */
export interface MeshFile {
  /** STL gives three vertices a triangle (a soup); PLY and OBJ share vertices as the file does. */
  readonly mesh: Mesh;
  readonly format: MeshFormat;
  /** Sentences about what was odd but could be read. */
  readonly notes: readonly string[];
}

export interface ReadMeshOptions {
  /** Refuse files with more triangles than this (polygons count as the triangles they give). */
  readonly maxTriangles?: number;
}

export const READ_MESH_DEFAULTS = { maxTriangles: 4_000_000 } as const satisfies ReadMeshOptions;

/** The most vertices that a file may hold: as many as the triangles could use, each with three of its own. */
export const maxVertices = (maxTriangles: number): number => 3 * maxTriangles;

/** 12345 → "12,345", for the sentences. */
export const grouped = (n: number): string => n.toLocaleString('en-US');
