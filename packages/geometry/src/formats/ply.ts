import { dropUnused, unusedNote } from './drop-unused.js';
import { FaceCollector } from './face-collector.js';
import { MeshFormatError } from './format-error.js';
import type { MeshFile, MeshFormat } from './mesh-file.js';
import { grouped, maxVertices } from './mesh-file.js';
import { PlyAsciiRows } from './ply-ascii.js';
import { PlyBinaryRows } from './ply-binary.js';
import type { PlyElement, PlyEncoding, PlyProperty } from './ply-header.js';
import { checkRowsFit, readPlyHeader } from './ply-header.js';

const FORMATS: Readonly<Record<PlyEncoding, MeshFormat>> = {
  ascii: 'ply-ascii',
  binary_little_endian: 'ply-binary-little',
  binary_big_endian: 'ply-binary-big',
};

/**
 * Reads a PLY file in any of its three encodings: x, y, z of the element "vertex" in any scalar type, polygons of the
 * element "face" from its list `vertex_indices` or `vertex_index`; every other property and element is passed over.
 * Errors: truncated-file, count-mismatch, malformed-file, unsupported-content, no-triangles, point-cloud,
 * bad-vertex-index, too-many-triangles.
 */
export function readPly(bytes: Uint8Array, start: number, maxTriangles: number): MeshFile {
  const header = readPlyHeader(bytes, start);
  const { encoding, elements } = header;
  const rows = encoding === 'ascii' ? new PlyAsciiRows(bytes, header.end) : new PlyBinaryRows(bytes, header.end, encoding === 'binary_little_endian');
  const faces = new FaceCollector(maxTriangles, 'PLY file');
  let positions: Float64Array | null = null;
  for (const element of elements) {
    const limit = element.name === 'vertex' ? maxVertices(maxTriangles) : maxTriangles;
    checkRowsFit(element, encoding, rows.bytesLeft, limit);
    if (element.name === 'vertex' && positions === null) {
      if (element.count > limit) throw tooMany(element.count, 'vertices', limit);
      positions = rows.readVertices(element, axesOf(element));
    } else if (element.name === 'face' && element.count > 0) {
      if (element.count > limit) throw tooMany(element.count, 'faces', limit);
      rows.readFaces(element, cornersOf(element), faces);
    } else {
      if (element.name === 'tristrips' && element.count > 0) {
        throw new MeshFormatError('unsupported-content', 'The PLY file holds its surface as triangle strips, which are not read here.');
      }
      rows.passOver(element);
    }
  }
  if (positions === null || positions.length === 0) throw new MeshFormatError('no-triangles', 'The PLY file holds no vertices.');
  if (faces.isEmpty) {
    throw new MeshFormatError('point-cloud', `The PLY file holds ${grouped(positions.length / 3)} points, but no surface between them.`);
  }
  const notes: string[] = [];
  if (faces.skipped > 0) notes.push(`${grouped(faces.skipped)} faces of the PLY file have fewer than three corners; they were left out.`);
  if (encoding !== 'ascii' && rows.bytesLeft > 0) notes.push(`The PLY file has ${grouped(rows.bytesLeft)} bytes after its last row; they were left out.`);
  const { mesh, unused } = dropUnused({ positions, triangles: faces.finish(positions) });
  if (unused > 0) notes.push(unusedNote(unused));
  return { mesh, format: FORMATS[encoding], notes };
}

function axesOf(element: PlyElement): PlyProperty[] {
  return ['x', 'y', 'z'].map((name) => {
    const property = element.properties.find((p) => p.name === name && p.countType === null);
    if (property === undefined) throw new MeshFormatError('malformed-file', `The vertices of the PLY file have no property "${name}".`);
    return property;
  });
}

function cornersOf(element: PlyElement): PlyProperty {
  const property = element.properties.find((p) => (p.name === 'vertex_indices' || p.name === 'vertex_index') && p.countType !== null);
  if (property === undefined) throw new MeshFormatError('malformed-file', 'The faces of the PLY file have no list "vertex_indices" or "vertex_index".');
  return property;
}

const tooMany = (count: number, of: string, limit: number): MeshFormatError =>
  new MeshFormatError('too-many-triangles', `The PLY file holds ${grouped(count)} ${of}; ${grouped(limit)} is the limit.`);
