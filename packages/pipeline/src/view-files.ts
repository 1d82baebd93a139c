import { writePackedGlb } from '@cast-to-last/geometry/formats/write-packed-glb';
import type { PackedNode } from '@cast-to-last/geometry/formats/write-packed-glb';
import { lighten } from '@cast-to-last/geometry/lighten';
import type { Mesh } from '@cast-to-last/geometry/mesh';

/** The bodies that are looked at, settled foot frame; a body that is not made yet is left out. */
export interface ViewBodies {
  readonly scan?: Mesh;
  readonly cleaned?: Mesh;
  readonly last?: Mesh;
  /** How far smoothing moved each vertex of the cleaned cast, mm, outward positive. */
  readonly change?: Float64Array;
}

export const VIEW = {
  /** Most triangles of a body at the level that is drawn while it is turned, and first of all. */
  lightTriangles: 40_000,
  /** Most triangles at full detail: of finer meshes a screen shows no more. */
  fullTriangles: 500_000,
} as const;

const BODIES = ['scan', 'cleaned', 'last'] as const;

/**
 * Small files for looking at a cast: view-light.glb with every body, so that there is a picture at once, and one a body at
 * full detail. Open glTF with 16-bit positions; the change of the cleaned cast is a number a vertex, no colour.
 */
export async function viewFiles(bodies: ViewBodies): Promise<{ readonly name: `view-${string}.glb`; readonly bytes: Uint8Array }[]> {
  const light: PackedNode[] = [];
  const full: { name: `view-${string}.glb`; bytes: Uint8Array }[] = [];
  for (const name of BODIES) {
    const mesh = bodies[name];
    if (mesh === undefined) continue;
    const change = name === 'cleaned' ? bodies.change : undefined;
    light.push(await levelOf(name, mesh, VIEW.lightTriangles, change));
    full.push({ name: `view-${name}.glb`, bytes: await writePackedGlb([await levelOf(name, mesh, VIEW.fullTriangles, change)]) });
  }
  return [{ name: 'view-light.glb', bytes: await writePackedGlb(light) }, ...full];
}

async function levelOf(name: string, fine: Mesh, triangles: number, change?: Float64Array): Promise<PackedNode> {
  const { mesh, from } = await lighten(fine, triangles);
  return {
    name, mesh, extras: { triangles: fine.triangles.length / 3 },
    ...(change !== undefined && { change: from.length === change.length ? change : Float64Array.from(from, (v) => change[v]) }),
  };
}
