import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { ascii, asciiPly, binaryPly, joined } from '../../support/mesh-files.ts';
import { box } from '../../support/meshes.ts';
import { anyMesh } from '../../support/random-mesh.ts';

const SEED = 47;
const code = (wanted: string): unknown => expect.objectContaining({ name: 'MeshFormatError', code: wanted });
const cube = box(2, 4, 6);
const bytesOf = (...numbers: number[]): Uint8Array => Uint8Array.from(numbers);

/** Header of one triangle (0,0,0) (1,0,0) (0,2,0) in shorts, with an index list in `index` type. */
const header = (format: string, index: string, eol = '\n'): Uint8Array =>
  ascii(['ply', `format ${format} 1.0`, 'element vertex 3', 'property short x', 'property short y', 'property short z', 'element face 1', `property list uchar ${index} vertex_index`, 'end_header', ''].join(eol));

describe('PLY bytes written by hand', () => {
  it.each([
    ['binary_little_endian', bytesOf(0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 2, 0, 0, 0, 3, 0, 0, 1, 0, 2, 0), 'ply-binary-little'],
    ['binary_big_endian', bytesOf(0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 2, 0, 0, 3, 0, 0, 0, 1, 0, 2), 'ply-binary-big'],
    ['ascii', ascii('0 0 0 1 0 0\n0 2 0\n3 0 1 2'), 'ply-ascii'],
  ])('%s', (format, body, name) => {
    const file = readMesh(joined(header(format, 'ushort'), body));
    expect([...file.mesh.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 2, 0]);
    expect([...file.mesh.triangles]).toEqual([0, 1, 2]);
    expect([file.format, file.notes]).toEqual([name, []]);
  });
  it.each(['\n', '\r\n', '\r'])('header lines end with %j, and the first byte of the body may be 10', (eol) => {
    const body = bytesOf(10, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 2, 0, 0, 0, 3, 0, 1, 2);
    const { mesh } = readMesh(joined(header('binary_little_endian', 'uchar', eol), body));
    expect([...mesh.positions.subarray(0, 3)]).toEqual([10, 0, 0]);
  });
});

describe('PLY round trips', () => {
  it(`ASCII gives coordinates back digit for digit (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyMesh(false), fc.constantFrom('\n', '\r\n', '\r'), fc.constantFrom('vertex_index', 'vertex_indices'), (mesh, eol, list) => {
        expect(readMesh(asciiPly(mesh, { eol, list })).mesh).toEqual(mesh);
      }),
      { seed: SEED },
    );
  });
  it(`binary, either order of bytes, float or double, with and without other properties (seed ${SEED})`, () => {
    const options = fc.record({ little: fc.boolean(), eol: fc.constantFrom('\n', '\r\n'), extras: fc.boolean() });
    fc.assert(
      fc.property(anyMesh(true), options, (mesh, how) => {
        const file = readMesh(binaryPly(mesh, how));
        expect(file.mesh).toEqual(mesh);
        expect(file.format).toBe(how.little ? 'ply-binary-little' : 'ply-binary-big');
      }),
      { seed: SEED },
    );
    fc.assert(
      fc.property(anyMesh(false), options, (mesh, how) => {
        expect(readMesh(binaryPly(mesh, { ...how, coordinate: 'double' })).mesh).toEqual(mesh);
      }),
      { seed: SEED },
    );
  });
});

describe('PLY varieties', () => {
  const text = (lines: string[]): Uint8Array => ascii(`ply\nformat ascii 1.0\n${lines.join('\n')}\n`);
  const square = ['element vertex 4', 'property float x', 'property float y', 'property float z'];

  it('splits polygons, faces before vertices, unknown elements and lists between them', () => {
    const { mesh } = readMesh(text([
      'obj_info from a bench', 'element face 1', 'property list int int vertex_indices', 'element camera 2', 'property list uchar float view', 'property int8 id', ...square, 'end_header',
      '4 0 1 2 3', '2 0.5 0.5 7', '0 8', '0 0 0', '1 0 0', '1 1 0', '0 1 0',
    ]));
    expect([...mesh.triangles]).toEqual([0, 1, 2, 0, 2, 3]);
  });
  it('skips elements without properties whatever their count', () => {
    const { mesh } = readMesh(text(['element nothing 999999999999', ...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '3 0 1 2']));
    expect(mesh.triangles.length).toBe(3);
  });
  it('leaves out points that belong to no triangle, NaN or not, and says so', () => {
    const { mesh, notes } = readMesh(text([...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', 'nan nan nan 0 0 0 1 0 0 0 1 0', '3 1 2 3']));
    expect([...mesh.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
    expect(notes).toEqual([expect.stringContaining('1 points')]);
  });
  it('leaves out faces with two corners and trailing bytes, and says so', () => {
    const twoCorners = readMesh(text([...square, 'element face 2', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '2 0 1', '4 0 1 2 3']));
    expect(twoCorners.notes).toEqual([expect.stringContaining('fewer than three corners')]);
    expect(readMesh(joined(binaryPly(cube), new Uint8Array(5))).notes).toEqual([expect.stringContaining('5 bytes')]);
  });

  it.each([
    ['count of 4 billion vertices', ['element vertex 4294967295', ...square.slice(1), 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0'], 'count-mismatch'],
    ['count of 4 billion faces', [...square, 'element face 4294967295', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '3 0 1 2'], 'count-mismatch'],
    ['one face too few', [...square, 'element face 9', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '3 0 1 2'], 'truncated-file'],
    ['list of a length beyond the file', [...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '4000000000 0 1 2'], 'truncated-file'],
    ['list of a broken length', [...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '2.5 0 1 2'], 'malformed-file'],
    ['index beyond the vertices', [...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '3 0 1 4'], 'bad-vertex-index'],
    ['negative index', [...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '3 0 1 -1'], 'bad-vertex-index'],
    ['points only', [...square, 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0'], 'point-cloud'],
    ['points and zero faces', [...square, 'element face 0', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0'], 'point-cloud'],
    ['nothing', ['element vertex 0', 'property float x', 'property float y', 'property float z', 'end_header'], 'no-triangles'],
    ['no z', ['element vertex 1', 'property float x', 'property float y', 'end_header', '0 0'], 'malformed-file'],
    ['faces without a list', [...square, 'element face 1', 'property int group', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '1'], 'malformed-file'],
    ['an unknown type', ['element vertex 1', 'property float128 x', 'end_header', '0'], 'unsupported-content'],
    ['triangle strips', [...square, 'element tristrips 1', 'property list int int vertex_indices', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '4 0 1 3 2'], 'unsupported-content'],
    ['a word for a number', [...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 x 0 0 1 0', '3 0 1 2'], 'malformed-file'],
    ['a header without end', square, 'truncated-file'],
    ['a strange header line', [...square, 'colour blue', 'end_header'], 'malformed-file'],
  ])('refuses: %s', (_, lines, wanted) => {
    expect(() => readMesh(text(lines))).toThrow(code(wanted));
  });
  it('refuses a format that does not exist, and none', () => {
    expect(() => readMesh(ascii('ply\nformat binary_middle_endian 1.0\nend_header\n'))).toThrow(code('unsupported-content'));
    expect(() => readMesh(ascii('ply\nend_header\n'))).toThrow(code('malformed-file'));
  });
  it('refuses a binary file cut at any byte', () => {
    for (const bytes of [binaryPly(cube), binaryPly(cube, { little: false, extras: true })]) {
      for (let length = 4; length < bytes.length; length++) expect(() => readMesh(bytes.subarray(0, length)), `cut at ${length}`).toThrow(code('truncated-file'));
    }
  });
  it('refuses more triangles than the limit, polygons counted as triangles', () => {
    expect(() => readMesh(binaryPly(cube), { maxTriangles: 11 })).toThrow(code('too-many-triangles'));
    const fan = text([...square, 'element face 1', 'property list uchar int vertex_index', 'end_header', '0 0 0 1 0 0 1 1 0 0 1 0', '4 0 1 2 3']);
    expect(() => readMesh(fan, { maxTriangles: 1 })).toThrow(code('too-many-triangles'));
  });
});
