import { ByteScanner } from './byte-scanner.js';
import { MeshFormatError } from './format-error.js';
import { GrowableFloat64 } from './growable.js';
import type { MeshFile } from './mesh-file.js';
import { grouped } from './mesh-file.js';

/**
 * Reads an ASCII STL with any number of solids: three vertices of its own for each triangle, stored normals ignored.
 * Keywords in any case, any spacing. Errors: truncated-file, malformed-file, no-triangles, too-many-triangles.
 */
export function readAsciiStl(bytes: Uint8Array, start: number, maxTriangles: number): MeshFile {
  const scanner = new ByteScanner(bytes, start, 'ASCII STL file');
  const positions = new GrowableFloat64();
  let open = false;
  const expect = (word: string): void => {
    scanner.skipSpace();
    if (!scanner.takeWord(word)) throw scanner.unexpected(`"${word}"`);
  };
  for (;;) {
    scanner.skipSpace();
    if (scanner.atEnd()) break;
    if (scanner.takeWord('facet')) {
      readFacet(scanner, expect, positions);
      if (positions.length > 9 * maxTriangles) {
        throw new MeshFormatError('too-many-triangles', `The ASCII STL file holds more than ${grouped(maxTriangles)} triangles, which is the limit.`);
      }
    } else if (scanner.takeWord('endsolid')) {
      open = false;
      scanner.skipLine();
    } else if (!open && scanner.takeWord('solid')) {
      open = true;
      scanner.skipLine();
    } else {
      throw scanner.unexpected('"facet" or "endsolid"');
    }
  }
  if (open) throw new MeshFormatError('truncated-file', 'The ASCII STL file ends without "endsolid", so it is cut short.');
  if (positions.length === 0) throw new MeshFormatError('no-triangles', 'The STL file holds no triangles.');
  const corners = positions.finish();
  const triangles = new Uint32Array(corners.length / 3);
  for (let i = 0; i < triangles.length; i++) triangles[i] = i;
  return { mesh: { positions: corners, triangles }, format: 'stl-ascii', notes: [] };
}

/** The rest of a facet after its first word. */
function readFacet(scanner: ByteScanner, expect: (word: string) => void, positions: GrowableFloat64): void {
  expect('normal');
  for (let k = 0; k < 3; k++) {
    scanner.skipSpace();
    scanner.skipWord();
  }
  expect('outer');
  expect('loop');
  for (let corner = 0; corner < 3; corner++) {
    expect('vertex');
    scanner.skipSpace();
    const x = scanner.readNumber();
    scanner.skipSpace();
    const y = scanner.readNumber();
    scanner.skipSpace();
    positions.push3(x, y, scanner.readNumber());
  }
  expect('endloop');
  expect('endfacet');
}
