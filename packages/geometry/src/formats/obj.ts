import { ByteScanner } from './byte-scanner.js';
import { dropUnused, unusedNote } from './drop-unused.js';
import { FaceCollector } from './face-collector.js';
import { MeshFormatError } from './format-error.js';
import { GrowableFloat64 } from './growable.js';
import type { MeshFile } from './mesh-file.js';
import { grouped, maxVertices } from './mesh-file.js';

const HASH = 35;
const SLASH = 47;
const LOWER_F = 102;
const LOWER_V = 118;
const SPACE = 32;
const TAB = 9;

/**
 * OBJ has no counts, and writers put vertices before faces. A file without a last line end is taken for cut short where
 * more than this share of its vertices have no face. (Chosen, not measured: whole files have none or few.)
 */
const MOST_UNUSED = 0.02;

/**
 * Reads the vertices and polygons of an OBJ file; all its objects and groups become one mesh. Indices count from 1, or
 * backwards from the last vertex where negative; texture and normal indices, colours, lines, points and every other
 * statement are passed over. A backslash continues a line.
 * Errors: truncated-file, malformed-file, unsupported-content, point-cloud, no-triangles, bad-vertex-index,
 * too-many-triangles.
 */
export function readObj(bytes: Uint8Array, start: number, maxTriangles: number): MeshFile {
  const scanner = new ByteScanner(bytes, start, 'OBJ file');
  const points = new GrowableFloat64();
  const faces = new FaceCollector(maxTriangles, 'OBJ file');
  const mostCoordinates = 3 * maxVertices(maxTriangles);
  while (!scanner.atEnd()) {
    scanner.skipBlanks();
    const first = scanner.peek();
    const next = bytes[scanner.at + 1];
    const alone = next === SPACE || next === TAB;
    if (first === LOWER_V && alone) {
      scanner.at++;
      readVertex(scanner, points);
      if (points.length > mostCoordinates) {
        throw new MeshFormatError('too-many-triangles', `The OBJ file holds more than ${grouped(mostCoordinates / 3)} vertices, which is the limit.`);
      }
      scanner.skipContinuedLine();
    } else if (first === LOWER_F && alone) {
      scanner.at++;
      readFace(scanner, points.length / 3, faces);
    } else if (first === HASH) {
      scanner.skipLine();
    } else {
      scanner.skipContinuedLine();
    }
  }
  if (points.length === 0) throw new MeshFormatError('no-triangles', 'The OBJ file holds no vertices.');
  if (faces.isEmpty) {
    throw new MeshFormatError('point-cloud', `The OBJ file holds ${grouped(points.length / 3)} points, but no surface between them.`);
  }
  const positions = points.finish();
  const { mesh, unused } = dropUnused({ positions, triangles: faces.finish(positions) });
  if (!endsWithLine(bytes) && (faces.lastSkipped || unused > MOST_UNUSED * points.length / 3)) {
    throw new MeshFormatError('truncated-file', `The OBJ file ends in the middle of a line, and ${grouped(unused)} vertices have no face yet, so it is cut short.`);
  }
  const notes: string[] = [];
  if (faces.skipped > 0) notes.push(`${grouped(faces.skipped)} faces of the OBJ file have fewer than three corners; they were left out.`);
  if (unused > 0) notes.push(unusedNote(unused));
  return { mesh, format: 'obj', notes };
}

const endsWithLine = (bytes: Uint8Array): boolean => bytes[bytes.length - 1] === 10 || bytes[bytes.length - 1] === 13;

function readVertex(scanner: ByteScanner, points: GrowableFloat64): void {
  scanner.skipBlanks();
  const x = scanner.readNumber();
  scanner.skipBlanks();
  const y = scanner.readNumber();
  scanner.skipBlanks();
  points.push3(x, y, scanner.readNumber());
}

/** The rest of a face statement; `vertices` is how many stand before it. */
function readFace(scanner: ByteScanner, vertices: number, faces: FaceCollector): void {
  for (;;) {
    scanner.skipBlanks();
    if (scanner.atLineEnd()) break;
    if (scanner.peek() === HASH) break;
    const index = scanner.readInteger();
    if (index === 0) throw new MeshFormatError('bad-vertex-index', 'A face of the OBJ file uses vertex 0, but OBJ counts from 1.');
    faces.addCorner(index > 0 ? index - 1 : vertices + index);
    if (scanner.peek() === SLASH) scanner.skipWord();
    else if (!scanner.atWordEnd()) throw scanner.unexpected('a vertex index');
  }
  faces.endFace();
  scanner.skipLine();
}
