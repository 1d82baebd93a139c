import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MeshFormatError } from '@cast-to-last/geometry/formats/format-error';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { countAllocations } from '../../support/count-allocations.ts';
import { ascii, asciiPly, asciiStl, binaryPly, binaryStl, joined, obj } from '../../support/mesh-files.ts';
import { icosphere } from '../../support/meshes.ts';
import { mutate } from '../../support/mutate.ts';
import { rng } from '../../support/rng.ts';

const sphere = icosphere(50, 2);
const FILES: readonly (readonly [string, Uint8Array])[] = [
  ['binary STL', binaryStl(sphere)],
  ['ASCII STL', asciiStl(sphere)],
  ['ASCII PLY', asciiPly(sphere)],
  ['little-endian PLY', binaryPly(sphere)],
  ['big-endian PLY with other properties', binaryPly(sphere, { little: false, extras: true })],
  ['PLY in doubles with CRLF', binaryPly(sphere, { coordinate: 'double', eol: '\r\n' })],
  ['OBJ', obj(sphere)],
];

/** Growing by doubling and the step from text to doubles together stay below this many bytes for each byte of input. */
const MOST_BYTES_PER_BYTE = 40;
/** First room of the growing arrays, and tables. */
const FIRST_ROOM = 300_000;
/** For files of 20 to 100 kB; a whole one takes a few milliseconds. */
const LONGEST_MS = 1000;

/** Reads; what comes out is a sound mesh or a MeshFormatError with a sentence. Says which. */
function readSafely(bytes: Uint8Array): 'mesh' | 'refusal' {
  const started = performance.now();
  let outcome: 'mesh' | 'refusal' = 'mesh';
  const allocated = countAllocations(() => {
    try {
      const { mesh } = readMesh(bytes);
      expect(mesh.triangles.length).toBeGreaterThan(0);
      expect(mesh.positions.every(Number.isFinite)).toBe(true);
      expect(mesh.triangles.every((v) => v < mesh.positions.length / 3)).toBe(true);
    } catch (error) {
      if (!(error instanceof MeshFormatError)) throw error;
      expect(error.message).toMatch(/^[A-Z].*\.$/s);
      outcome = 'refusal';
    }
  });
  expect(allocated).toBeLessThan(MOST_BYTES_PER_BYTE * bytes.length + FIRST_ROOM);
  expect(performance.now() - started).toBeLessThan(LONGEST_MS);
  return outcome;
}

describe('readers hold under damaged files', () => {
  FILES.forEach(([name, bytes], i) => {
    const seed = 100 + i;
    it(`${name}, 500 wounded copies (seed ${seed})`, () => {
      const random = rng(seed);
      const outcomes = { mesh: 0, refusal: 0 };
      for (let n = 0; n < 500; n++) {
        const wounded = mutate(bytes, FILES[random.below(FILES.length)][1], random);
        try {
          outcomes[readSafely(wounded)]++;
        } catch (error) {
          throw new Error(`Copy ${n} of seed ${seed} broke the reader.`, { cause: error });
        }
      }
      // The wounds must reach past the first check, and must do harm.
      expect(outcomes.mesh).toBeGreaterThan(10);
      expect(outcomes.refusal).toBeGreaterThan(20);
    });
  });

  it('any bytes after any opening (seed 71)', () => {
    const openings = [new Uint8Array(0), ascii('solid a\nfacet normal 0 0 0\n'), ascii('ply\n'), ascii('ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_index\nend_header\n'), ascii('v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 3\n'), new Uint8Array(84)];
    fc.assert(
      fc.property(fc.constantFrom(...openings), fc.uint8Array({ maxLength: 400 }), (opening, rest) => {
        readSafely(joined(opening, rest));
      }),
      { seed: 71, numRuns: 1500 },
    );
  });
});

describe('nothing is allocated for a count that the bytes cannot hold', () => {
  const plyHeader = (format: string, vertices: number, faces: number): Uint8Array =>
    ascii(`ply\nformat ${format} 1.0\nelement vertex ${vertices}\nproperty float x\nproperty float y\nproperty float z\nelement face ${faces}\nproperty list uint int vertex_indices\nend_header\n`);
  const four = 0xffffffff;
  const listOfFourBillion = joined(plyHeader('binary_little_endian', 1, 1), new Uint8Array(12), new Uint8Array(4).fill(255), new Uint8Array(64));
  it.each([
    ['STL', binaryStl(sphere, { count: four })],
    ['STL with a broken record', joined(binaryStl(sphere, { count: four }), new Uint8Array(9))],
    ['STL of nothing but a header', binaryStl({ positions: new Float64Array(0), triangles: new Uint32Array(0) }, { count: four })],
    ['binary PLY, vertices', joined(plyHeader('binary_little_endian', four, 1), new Uint8Array(500))],
    ['binary PLY, faces', joined(plyHeader('binary_big_endian', 3, four), new Uint8Array(500))],
    ['ASCII PLY, vertices', joined(plyHeader('ascii', four, 1), ascii('0 0 0\n'.repeat(100)))],
    ['ASCII PLY, faces', joined(plyHeader('ascii', 3, four), ascii('0 0 0\n'.repeat(100)))],
    ['binary PLY, one list', listOfFourBillion],
    ['ASCII PLY, one list', joined(plyHeader('ascii', 1, 1), ascii('0 0 0\n4294967295 0 0 0\n'))],
    ['OBJ index', ascii('v 0 0 0\nf 4294967294 4294967294 4294967294\n')],
  ])('%s', (_, bytes) => {
    readSafely(bytes);
  });
  it('the counter of this test does see a large array', () => {
    expect(countAllocations(() => new Float64Array(1_000_000))).toBe(8_000_000);
  });
});

describe('nothing takes more than linear time', () => {
  const many = 200_000;
  it.each([
    ['blank lines after a vertex', ascii(`v 0 0 0\n${'\n'.repeat(many)}`)],
    ['one line of blanks', ascii(`v 0 0 0${' '.repeat(many)}`)],
    ['backslashes', ascii(`v 0 0 0\n${'\\\n'.repeat(many / 2)}`)],
    ['comments', ascii('#\n\n\n'.repeat(many / 4))],
    ['a number of 200,000 digits', ascii(`v 0 0 ${'1'.repeat(many)}`)],
    ['a header of blank lines', ascii(`ply\n${'\n'.repeat(many)}`)],
    ['a header of elements', ascii(`ply\nformat ascii 1.0\n${'element e 999999999\n'.repeat(many / 20)}end_header\n`)],
    ['one polygon after the other in one place', ascii(`v 0 0 0\n${`f${' 1'.repeat(9000)}\n`.repeat(11)}`)],
    ['a comb of 9,000 teeth', ascii(`${Array.from({ length: 9000 }, (_, i) => `v ${i} ${(i % 2) * 1000} 0`).join('\n')}\nv 0 -1 0\nf ${Array.from({ length: 9001 }, (_, i) => i + 1).join(' ')}\n`)],
    ['solids without facets', ascii('solid\nendsolid\n'.repeat(many / 16))],
    ['one character of text', ascii('x'.repeat(many))],
  ])('%s', (_, bytes) => {
    readSafely(bytes);
  });
});
