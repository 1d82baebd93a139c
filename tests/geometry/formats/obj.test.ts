import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { ascii, obj } from '../../support/mesh-files.ts';
import { box } from '../../support/meshes.ts';
import { anyMesh } from '../../support/random-mesh.ts';

const SEED = 53;
const code = (wanted: string): unknown => expect.objectContaining({ name: 'MeshFormatError', code: wanted });
const read = (...lines: string[]): ReturnType<typeof readMesh> => readMesh(ascii(`${lines.join('\n')}\n`));
const square = ['v 0 0 0', 'v 1 0 0', 'v 1 1 0', 'v 0 1 0'];

describe('OBJ', () => {
  it(`gives coordinates back digit for digit (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyMesh(false), fc.constantFrom('\n', '\r\n', '\r'), (mesh, eol) => {
        const file = readMesh(obj(mesh, { eol }));
        expect(file.mesh).toEqual(mesh);
        expect(file.format).toBe('obj');
      }),
      { seed: SEED },
    );
  });
  it.each([['f 1 2 3'], ['f 1/5 2/5 3/5'], ['f 1//9 2//9 3//9'], ['f 1/1/1 2/2/2 3/3/3'], ['f -4 -3 -2'], ['f -4/-1/-1 2//-1 -2'], ['\tf\t1 2 3  # seen'], ['f 1 \\\n 2 \\\r\n3'], ['f 1/1\\\n 2/1 3/1']])('%j is triangle 1 2 3', (face) => {
    expect([...read(...square, face).mesh.triangles]).toEqual([0, 1, 2]);
  });
  it('splits polygons, joins objects and groups, counts negative indices from where they stand', () => {
    const { mesh } = read('mtllib none.mtl', 'o first', ...square, 'vt 0 0', 'vn 0 0 1', 'g top', 's 1', 'f -4 -3 -2 -1', 'o second', 'v 0 0 5 1.0', 'v 1 0 5 0.2 0.3 0.4', 'v 0 1 5', 'usemtl plaster', 'f -3 -2 -1', 'l 1 2', 'p 1', 'call other.obj 1');
    expect(mesh.positions.length).toBe(21);
    expect([...mesh.triangles]).toEqual([4, 5, 6, 0, 1, 2, 0, 2, 3]);
  });
  it('a comment is not continued by a backslash at its end', () => {
    expect(read('# folder scans\\', ...square, 'f 1 2 3').mesh.triangles.length).toBe(3);
  });
  it('faces may stand before their vertices, and the file may lack its last line end', () => {
    expect([...readMesh(ascii(['f 1 2 3', 'v 0 0 0', 'v 1 0 0', 'v 1 1 0'].join('\n'))).mesh.triangles]).toEqual([0, 1, 2]);
  });
  it('leaves out points without a face and faces with two corners, and says so', () => {
    const { mesh, notes } = read(...square, 'f 1 2 3', 'f 1 2');
    expect(mesh.positions.length).toBe(9);
    expect(notes).toEqual([expect.stringContaining('fewer than three'), expect.stringContaining('1 points')]);
  });
  it.each([
    ['index 0', [...square, 'f 0 1 2'], 'bad-vertex-index'],
    ['index beyond the end', [...square, 'f 1 2 5'], 'bad-vertex-index'],
    ['negative index beyond the start', [...square, 'f 1 2 -5'], 'bad-vertex-index'],
    ['index of 30 digits', [...square, 'f 1 2 123456789012345678901234567890'], 'bad-vertex-index'],
    ['points only', square, 'point-cloud'],
    ['a word for an index', [...square, 'f 1 2 c'], 'malformed-file'],
    ['a fraction for an index', [...square, 'f 1 2 3.5'], 'malformed-file'],
    ['two coordinates', ['v 0 0', 'v 1 0 0', 'v 0 1 0', 'f 1 2 3'], 'malformed-file'],
    ['NaN', ['v 0 0 0', 'v 1 0 nan', 'v 0 1 0', 'f 1 2 3'], 'coordinates-not-finite'],
    ['1e999', ['v 0 0 0', 'v 1 0 1e999', 'v 0 1 0', 'f 1 2 3'], 'coordinates-not-finite'],
    ['a polygon with 10,001 corners', [...square, `f${' 1 2 3'.repeat(3334)}`], 'unsupported-content'],
  ])('refuses: %s', (_, lines, wanted) => {
    expect(() => read(...lines)).toThrow(code(wanted));
  });
  it('names the line of a fault', () => {
    expect(() => read(...square, 'f 1 2 c')).toThrow('Line 5');
  });
  it('takes a file that ends in the middle of a line, with points left over, for cut short', () => {
    const bytes = obj(box(1, 1, 1, 6));
    expect(() => readMesh(bytes.subarray(0, Math.floor(0.8 * bytes.length)))).toThrow(code('truncated-file'));
    expect(() => readMesh(ascii([...square, 'f 1 2 3', 'f 1 3'].join('\n')))).toThrow(code('truncated-file'));
  });
  it('refuses more triangles or vertices than the limit', () => {
    expect(() => readMesh(obj(box(1, 1, 1)), { maxTriangles: 11 })).toThrow(code('too-many-triangles'));
    expect(() => readMesh(obj(box(1, 1, 1)), { maxTriangles: 2 })).toThrow(code('too-many-triangles'));
  });
});
