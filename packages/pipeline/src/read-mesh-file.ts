import type { MeshFormatCode } from '@cast-to-last/geometry/formats/format-error';
import { MeshFormatError } from '@cast-to-last/geometry/formats/format-error';
import type { MeshFile } from '@cast-to-last/geometry/formats/mesh-file';
import { READ_MESH_DEFAULTS } from '@cast-to-last/geometry/formats/mesh-file';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { CastError } from './errors.js';

export const EXPORT_AGAIN = 'Export the scan again from the scanning program and upload that file.';

/** What to do about each refusal of a reader. */
const REMEDIES: Readonly<Record<MeshFormatCode, string>> = {
  'empty-file': EXPORT_AGAIN,
  'not-a-mesh-file': 'Export the scan as STL, PLY or OBJ and upload that file.',
  'truncated-file': 'Copy or upload the file again; if it is still cut short, export it again.',
  'count-mismatch': EXPORT_AGAIN,
  'malformed-file': EXPORT_AGAIN,
  'unsupported-content': 'Export the scan as a triangle mesh in STL, PLY or OBJ.',
  'coordinates-not-finite': 'Repair the scan in the scanning program, or export it again.',
  'no-triangles': 'Check that the scan is selected when it is exported, and export it again.',
  'point-cloud': 'Let the scanning program make a surface (a mesh) of the points and export that; if the scan is one already, the file may be cut short.',
  'bad-vertex-index': EXPORT_AGAIN,
  'too-many-triangles': 'Reduce the scan in the scanning program, for example to 500,000 triangles.',
};

/** The mesh in the bytes of an STL, PLY or OBJ file. Throws CastError with the codes of MeshFormatCode. */
export function readMeshFile(bytes: Uint8Array, maxTriangles: number = READ_MESH_DEFAULTS.maxTriangles): MeshFile {
  try {
    return readMesh(bytes, { maxTriangles });
  } catch (error) {
    if (error instanceof MeshFormatError) throw new CastError(error.code, error.message, REMEDIES[error.code]);
    throw error;
  }
}
