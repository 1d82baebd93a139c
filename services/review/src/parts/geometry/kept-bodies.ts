import type { SurfaceTree } from '@cast-to-last/geometry/distance/bvh';
import { surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { feltSurface } from '@cast-to-last/foot/felt-surface';

/** A mesh with what is made of it when it is first asked for. */
export interface KeptBody {
  readonly mesh: Mesh;
  tree(): SurfaceTree;
  twin(): Int32Array;
  /** As a tape feels it: the surface that the pipeline measures. */
  felt(): { readonly mesh: Mesh; readonly twin: Int32Array };
}

const bodies = new Map<string, KeptBody>();

export function keep(key: string, mesh: Mesh): void {
  bodies.set(key, { mesh, tree: once(() => surfaceTree(mesh)), twin: once(() => twins(mesh)), felt: once(() => feltSurface(mesh, new Uint8Array(mesh.positions.length / 3))) });
}

export const bodyOf = (key: string): KeptBody | undefined => bodies.get(key);

export function forget(side: string): null {
  for (const key of bodies.keys()) if (key.startsWith(`${side}:`)) bodies.delete(key);
  return null;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}
