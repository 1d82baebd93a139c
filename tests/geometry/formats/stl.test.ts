import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { ascii, asciiStl, binaryStl, joined } from '../../support/mesh-files.ts';
import { asSoup, box, icosphere } from '../../support/meshes.ts';
import { anyMesh } from '../../support/random-mesh.ts';

const SEED = 31;
const code = (wanted: string): unknown => expect.objectContaining({ name: 'MeshFormatError', code: wanted });
const cube = box(2, 4, 6);

/** One triangle (0,0,0) (1,0,0) (0,1,0), normal +z, written byte by byte. */
const ONE = new Uint8Array(134);
ONE[80] = 1;
for (const [at, bytes] of [[92, [0x00, 0x00, 0x80, 0x3f]], [108, [0x00, 0x00, 0x80, 0x3f]], [124, [0x00, 0x00, 0x80, 0x3f]]] as const) ONE.set(bytes, at);

describe('binary STL', () => {
  it('reads bytes written by hand', () => {
    const { mesh, format, notes } = readMesh(ONE);
    expect([...mesh.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
    expect([...mesh.triangles]).toEqual([0, 1, 2]);
    expect([format, notes]).toEqual(['stl-binary', []]);
  });
  it('writes bytes that were written by hand, but for the title', () => {
    const bytes = writeStl({ positions: new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0]), triangles: new Uint32Array([0, 1, 2]) }, { title: '' });
    expect(bytes).toEqual(ONE);
  });
  it(`gives back what was written (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyMesh(true), (mesh) => {
        expect(readMesh(writeStl(mesh)).mesh).toEqual(asSoup(mesh));
      }),
      { seed: SEED },
    );
  });
  it('reads from the middle of a larger buffer', () => {
    const around = joined(new Uint8Array(7), ONE, new Uint8Array(9));
    expect(readMesh(around.subarray(7, 141)).mesh).toEqual(readMesh(ONE).mesh);
  });
  it.each(['solid', 'solid part facet normal', 'SOLID endsolid', 'ply\nformat ascii 1.0', 'v 1 2 3', '\x89PNG', '<html>'])('is told by its size, whatever the header says: %s', (header) => {
    const { mesh, format } = readMesh(binaryStl(cube, { header }));
    expect(format).toBe('stl-binary');
    expect(mesh).toEqual(asSoup(cube));
  });
  it('is told by its content where "solid" stands in the header and size and count disagree', () => {
    const { mesh, format } = readMesh(joined(binaryStl(icosphere(5, 2), { header: 'solid part' }), new Uint8Array(7)));
    expect(format).toBe('stl-binary');
    expect(mesh.triangles.length).toBe(3 * 320);
  });
  it.each([0, 0xffffffff, 0x20202020, 5])('reads every whole record where the count lies (%d) and the size is right, and says so', (count) => {
    const { mesh, notes } = readMesh(binaryStl(cube, { count }));
    expect(mesh).toEqual(asSoup(cube));
    expect(notes).toEqual([expect.stringContaining('12 whole ones')]);
  });
  it('leaves out trailing bytes and says so', () => {
    const { mesh, notes } = readMesh(joined(binaryStl(cube), ascii('made in a workshop')));
    expect(mesh).toEqual(asSoup(cube));
    expect(notes).toEqual([expect.stringContaining('18 bytes after its last triangle')]);
  });
  it('takes trailing bytes for no triangles even where they are a multiple of 50', () => {
    expect(readMesh(joined(binaryStl(cube), new Uint8Array(100).fill(0xff))).mesh).toEqual(asSoup(cube));
  });
  it.each([
    ['cut inside a triangle', binaryStl(cube).subarray(0, 84 + 5 * 50 + 13), 'truncated-file'],
    ['cut between triangles', binaryStl(cube).subarray(0, 84 + 5 * 50), 'truncated-file'],
    ['count of 4 billion and a broken record', joined(binaryStl(cube, { count: 0xffffffff }), new Uint8Array(3)), 'count-mismatch'],
    ['right size, but zeros from the middle on', binaryStl(icosphere(5, 2)).fill(0, 84 + 50 * 200), 'truncated-file'],
    ['no triangles', new Uint8Array(84), 'no-triangles'],
  ])('refuses: %s', (_, bytes, wanted) => {
    expect(() => readMesh(bytes)).toThrow(code(wanted));
  });
  it('refuses NaN and infinity', () => {
    for (const bits of [0x7fc00000, 0x7f800000, 0xff800000]) {
      const bytes = binaryStl(cube);
      new DataView(bytes.buffer).setUint32(84 + 50 * 3 + 16, bits, true);
      expect(() => readMesh(bytes)).toThrow(code('coordinates-not-finite'));
    }
  });
  it('refuses more triangles than the limit', () => {
    expect(() => readMesh(binaryStl(cube), { maxTriangles: 11 })).toThrow(code('too-many-triangles'));
    expect(readMesh(binaryStl(cube), { maxTriangles: 12 }).mesh.triangles.length).toBe(36);
  });
  it('never writes a header that begins with "solid" or holds other than ASCII', () => {
    const title = (text: string): string => String.fromCharCode(...writeStl(cube, { title: text }).subarray(0, 80));
    expect(title('Solid oak')).toMatch(/^_Solid oak\0+$/);
    expect(title('Größe')).toMatch(/^Gr\?\?e\0+$/);
    expect(title('x'.repeat(200))).toBe('x'.repeat(80));
  });
  it('writes unit normals that face outward, 0 without area', () => {
    const sphere = icosphere(10, 2);
    const view = new DataView(writeStl(sphere).buffer);
    for (let at = 84; at < view.byteLength; at += 50) {
      const f = (k: number): number => view.getFloat32(at + 4 * k, true);
      expect(Math.hypot(f(0), f(1), f(2))).toBeCloseTo(1, 6);
      expect(f(0) * f(3) + f(1) * f(4) + f(2) * f(5)).toBeGreaterThan(0);
    }
    const flat = new DataView(writeStl({ positions: new Float64Array(9), triangles: new Uint32Array([0, 1, 2]) }).buffer);
    expect(flat.getFloat32(84, true)).toBe(0);
  });
});

describe('ASCII STL', () => {
  it(`gives back coordinates digit for digit (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyMesh(false), fc.constantFrom('\n', '\r\n', '\r'), (mesh, eol) => {
        const file = readMesh(asciiStl(mesh, { eol }));
        expect(file.format).toBe('stl-ascii');
        expect(file.mesh).toEqual(asSoup(mesh));
      }),
      { seed: SEED },
    );
  });
  it('reads capitals, tabs, a byte order mark, several solids and names with keywords in them', () => {
    const facet = 'FACET NORMAL nan nan nan\n\tOUTER LOOP\n\tVERTEX 0 0 0\n\tVertex 1 0 0\tvertex 0 1e0 0\nendloop endfacet\n';
    const text = `\ufeffsolid facet of a endsolid\n${facet}endsolid a\nsolid\n${facet}endsolid`;
    expect([...readMesh(ascii(text)).mesh.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 1, 0]);
  });
  it('refuses a cut at every byte but those after the last keyword', () => {
    const bytes = asciiStl(box(1, 1, 1));
    const end = bytes.length - 'endsolid hand\n'.length + 'endsolid'.length;
    for (let length = 'solid hand\n facet'.length; length < end; length++) {
      expect(() => readMesh(bytes.subarray(0, length)), `cut at ${length}`).toThrow(code('truncated-file'));
    }
    expect(readMesh(bytes.subarray(0, end)).mesh.triangles.length).toBe(36);
  });
  it.each([
    ['a word instead of a number', 'solid a\nfacet normal 0 0 1 outer loop\nvertex 0 zero 0\nvertex 0 0 0 ...', 'malformed-file'],
    ['a quadrilateral', 'solid a\nfacet normal 0 0 1 outer loop vertex 0 0 0 vertex 1 0 0 vertex 1 1 0 vertex 0 1 0 endloop endfacet endsolid', 'malformed-file'],
    ['no facets', 'solid nothing\nendsolid nothing\n', 'no-triangles'],
    ['infinity', 'solid a\nfacet normal 0 0 1 outer loop vertex 0 0 inf vertex 1 0 0 vertex 1 1 0 endloop endfacet endsolid', 'coordinates-not-finite'],
  ])('refuses: %s', (_, text, wanted) => {
    expect(() => readMesh(ascii(text))).toThrow(code(wanted));
  });
  it('refuses more triangles than the limit', () => {
    expect(() => readMesh(asciiStl(cube), { maxTriangles: 11 })).toThrow(code('too-many-triangles'));
  });
});
