import { writePackedGlb } from '@cast-to-last/geometry/formats/write-packed-glb';
import type { PackedNode } from '@cast-to-last/geometry/formats/write-packed-glb';
import { lighten } from '@cast-to-last/geometry/remeshing/lighten';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

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
 * A small file for looking at a cast: view-light.glb with every body, so that there is a picture at once, or one a body at
 * full detail. Open glTF with 16-bit positions; the change of the cleaned cast is a number a vertex, no colour.
 */
export interface ViewFile {
  readonly name: `view-${string}.glb`;
  readonly bytes: Uint8Array;
}

/** The small file with every body, which is made first where someone waits. */
export const lightFile = async (bodies: ViewBodies): Promise<ViewFile> => lightFileOf(await lightLevels(bodies));

export const lightFileOf = async (levels: readonly PackedNode[]): Promise<ViewFile> => ({ name: 'view-light.glb', bytes: await writePackedGlb(levels) });

/** The bodies at the level of the light file, scan before cleaned cast before last. */
export async function lightLevels(bodies: ViewBodies): Promise<PackedNode[]> {
  const light: PackedNode[] = [];
  for (const [name, mesh, change] of bodiesOf(bodies)) light.push(await levelOf(name, mesh, VIEW.lightTriangles, change));
  return light;
}

/** The files at full detail, one a body. */
export async function fullFiles(bodies: ViewBodies): Promise<ViewFile[]> {
  const files: ViewFile[] = [];
  for (const [name, mesh, change] of bodiesOf(bodies)) files.push({ name: `view-${name}.glb`, bytes: await writePackedGlb([await levelOf(name, mesh, VIEW.fullTriangles, change)]) });
  return files;
}

const bodiesOf = (bodies: ViewBodies) => BODIES.flatMap((name) => {
  const mesh = bodies[name];
  return mesh === undefined ? [] : [[name, mesh, name === 'cleaned' ? bodies.change : undefined] as const];
});

async function levelOf(name: string, fine: Mesh, triangles: number, change?: Float64Array): Promise<PackedNode> {
  const { mesh, from } = await lighten(fine, triangles);
  return {
    name, mesh, extras: { triangles: fine.triangles.length / 3 },
    ...(change !== undefined && { change: from.length === change.length ? change : Float64Array.from(from, (v) => change[v]) }),
  };
}
