import { MeshFormatError } from './format-error.js';
import type { MeshFile, ReadMeshOptions } from './mesh-file.js';
import { READ_MESH_DEFAULTS } from './mesh-file.js';
import { readObj } from './obj.js';
import { readPly } from './ply.js';
import { sniff } from './sniff.js';
import { readBinaryStl } from './stl.js';
import { readAsciiStl } from './stl-ascii.js';

/**
 * Reads the mesh out of the bytes of an STL, PLY or OBJ file, told by content and not by name. Nothing is allocated for
 * a count that the bytes cannot hold. Coordinates are finite and indices in range in what comes out; nothing is welded.
 * Throws MeshFormatError, nothing else.
 */
export function readMesh(bytes: Uint8Array, options: ReadMeshOptions = {}): MeshFile {
  const maxTriangles = options.maxTriangles ?? READ_MESH_DEFAULTS.maxTriangles;
  if (bytes.length === 0) throw new MeshFormatError('empty-file', 'The file is empty.');
  const file = readKnown(bytes, maxTriangles);
  const { positions } = file.mesh;
  for (let i = 0; i < positions.length; i++) {
    if (!Number.isFinite(positions[i])) {
      throw new MeshFormatError('coordinates-not-finite', 'The file holds coordinates that are no numbers (NaN or infinity).');
    }
  }
  return file;
}

function readKnown(bytes: Uint8Array, maxTriangles: number): MeshFile {
  const found = sniff(bytes);
  switch (found.kind) {
    case 'stl-binary': return readBinaryStl(bytes, maxTriangles);
    case 'stl-ascii': return readAsciiStl(bytes, found.start, maxTriangles);
    case 'ply': return readPly(bytes, found.start, maxTriangles);
    case 'obj': return readObj(bytes, found.start, maxTriangles);
    case 'points': throw new MeshFormatError('point-cloud', 'The file is a list of points, with no surface between them.');
    case 'foreign': throw new MeshFormatError('not-a-mesh-file', `The file is ${found.name}, not an STL, PLY or OBJ file.`);
  }
}
