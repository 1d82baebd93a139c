import type { Mesh } from '../mesh/mesh.js';
import { withSolids } from './solid.js';

/** Tells the volume of a closed mesh, in the cube of its unit. Rejects with a SolidError where the mesh is no solid, as `SolidScope.ofMesh`. */
export type WeighSolid = (mesh: Mesh) => Promise<number>;

/** As the solid modeller finds it, in this thread. */
export const weighSolid: WeighSolid = (mesh) => withSolids((scope) => scope.ofMesh(mesh).volume);
