import { readPackedGlb } from '@cast-to-last/geometry/formats/read-packed-glb';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { ShownBody } from './calls.js';
import { withCrispEdges } from './crisp-edges.js';
import { facingOut } from './facing-out.js';

/** The bodies of a file of views, as they are drawn and as they are asked. */
export async function unpack(bytes: Uint8Array): Promise<{ readonly mesh: Mesh; readonly shown: ShownBody }[]> {
  return (await readPackedGlb(bytes)).map(({ name, mesh, change, extras }) => {
    const smooth = new Float32Array(vertexNormals(mesh));
    // A last is cut; a cast has no edges. The triangles are copied: the mesh stays here.
    const drawn = name === 'last' ? withCrispEdges(mesh, smooth) : { positions: new Float32Array(mesh.positions), normals: smooth, triangles: facingOut(mesh.positions, smooth, mesh.triangles.slice()) };
    return { mesh, shown: { name: name as ShownBody['name'], ...drawn, change, ofTriangles: typeof extras.triangles === 'number' ? extras.triangles : mesh.triangles.length / 3 } };
  });
}
