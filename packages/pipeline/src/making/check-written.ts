import { connectedPieces } from '@cast-to-last/geometry/mesh/components';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { SAME } from './as-written.js';

/** What a file holds, read back. */
export interface WrittenCheck {
  readonly triangles: number;
  /** Every edge is met once in each direction. */
  readonly closed: boolean;
  readonly pieces: number;
  /** mm³; positive where the surface faces outward */
  readonly volume: number;
}

/** Reads an STL back as any reader would: triangles joined where their corners have the same coordinates. */
export function checkWritten(stl: Uint8Array): WrittenCheck {
  const { mesh } = weld(readMesh(stl).mesh, SAME);
  const twin = twins(mesh);
  return { triangles: mesh.triangles.length / 3, closed: twin.every((h) => h >= 0), pieces: connectedPieces(twin).count, volume: signedVolume(mesh) };
}
