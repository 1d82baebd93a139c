import { describe, expect, it } from 'vitest';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { CastError } from '@cast-to-last/pipeline/errors';
import { readScan } from '@cast-to-last/pipeline/stages/read-scan';
import { scaled } from '../../support/disturb.ts';
import { footShape } from '../../support/foot-shape.ts';
import { ascii, asciiPly, asciiStl, binaryPly, binaryStl, joined, obj } from '../../support/mesh-files.ts';
import { box, gridPlane, icosphere, merged } from '../../support/meshes.ts';
import { mutate } from '../../support/mutate.ts';
import { rng } from '../../support/rng.ts';

const foot = footShape();
const thrown = (work: () => unknown): CastError => {
  try {
    work();
  } catch (error) {
    if (error instanceof CastError) return error;
    throw error;
  }
  throw new Error('Nothing was refused.');
};

describe('reading a scan', () => {
  it.each([
    ['stl-binary', binaryStl(foot)], ['stl-ascii', asciiStl(foot)], ['ply-ascii', asciiPly(foot)],
    ['ply-binary-little', binaryPly(foot)], ['ply-binary-big', binaryPly(foot, { little: false })], ['obj', obj(foot)],
  ])('%s gives the same foot in millimetres', (format, bytes) => {
    const scan = readScan(bytes);
    expect([scan.format, scan.unit, scan.unitHow, scan.kind]).toEqual([format, 'mm', 'inferred', 'positive']);
    expect(scan.trianglesRead).toBe(foot.triangles.length / 3);
    expect(scan.mesh.triangles.length).toBe(foot.triangles.length);
    expect(signedVolume(scan.mesh) / signedVolume(foot)).toBeCloseTo(1, 5);
    expect(scan.warnings).toEqual([expect.stringContaining('millimetres were taken')]);
  });
  it('keeps the kind, and says nothing where all is as declared', () => {
    const scan = readScan(binaryPly(foot), { unit: 'mm', kind: 'outside' });
    expect([scan.kind, scan.unitHow, scan.warnings]).toEqual(['outside', 'given', []]);
  });
  it('hands on what the reader found odd', () => {
    expect(readScan(binaryStl(foot, { count: 0 }), { unit: 'mm' }).warnings).toEqual([expect.stringContaining('says 0 triangles')]);
  });

  it.each([
    ['an empty file', new Uint8Array(0), 'empty-file'],
    ['a picture renamed to .stl', joined(Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10), new Uint8Array(900).fill(77)), 'not-a-mesh-file'],
    ['a truncated STL', binaryStl(foot).subarray(0, 50_000), 'truncated-file'],
    ['a truncated PLY', binaryPly(foot).subarray(0, 50_000), 'truncated-file'],
    ['a count of 4 billion', ascii('ply\nformat ascii 1.0\nelement vertex 4294967295\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n'), 'count-mismatch'],
    ['NaN', binaryStl({ ...foot, positions: foot.positions.map((c, i) => (i === 30 ? NaN : c)) }), 'coordinates-not-finite'],
    ['infinity', obj({ ...foot, positions: foot.positions.map((c, i) => (i === 30 ? Infinity : c)) }), 'coordinates-not-finite'],
    ['zero triangles', new Uint8Array(84), 'no-triangles'],
    ['a point cloud in PLY', ascii('ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n1 1 1\n'), 'point-cloud'],
    ['a point cloud in OBJ', ascii('v 0 0 0\nv 1 0 0\nv 1 1 0\n'), 'point-cloud'],
    ['a list of points', ascii('0 0 0\n1 0 0\n'), 'point-cloud'],
    ['a bad index', ascii('v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 4\n'), 'bad-vertex-index'],
    ['a strange word', ascii('v 0 0 0\nv 1 0 zero\n'), 'malformed-file'],
    ['strips', ascii('ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nelement tristrips 1\nproperty list int int vertex_indices\nend_header\n0 0 0\n1 0\n'), 'unsupported-content'],
    ['triangles without area', asciiStl({ positions: new Float64Array([0, 0, 0, 9, 9, 9, 18, 18, 18]), triangles: new Uint32Array([0, 1, 2]) }), 'no-surface'],
    ['all corners in one place', binaryStl({ positions: new Float64Array(9).fill(4), triangles: new Uint32Array([0, 1, 2]) }), 'no-surface'],
    ['a plane', binaryStl(gridPlane(40, 40, 300)), 'flat-surface'],
    ['two triangles of a plane', obj(gridPlane(1, 1, 300)), 'flat-surface'],
    ['a sphere', binaryStl(icosphere(110, 4)), 'sphere-not-foot'],
    ['a shoe box', binaryStl(box(330, 190, 120)), 'box-not-foot'],
    ['a shoe box in fine triangles', binaryStl(box(330, 190, 120, 30)), 'box-not-foot'],
    ['a foot of 300 triangles', binaryStl(footShape({ rings: 12, around: 12 })), 'too-few-triangles'],
    ['a foot of 1 m', binaryStl(scaled(foot, 4)), 'size-not-foot'],
    ['coordinates of 1e200', obj(scaled(foot, 1e200)), 'size-not-foot'],
    ['coordinates of 1e-200', obj(scaled(foot, 1e-200)), 'size-not-foot'],
    ['18 cm or 18 in', binaryStl(scaled(foot, 17.7 / 260)), 'unit-ambiguous'],
  ])('refuses %s and says what to do', (_, bytes, code) => {
    const error = thrown(() => readScan(bytes));
    expect(error.code).toBe(code);
    expect(error.remedy).toMatch(/^[A-Z].{10,}\.$/);
    expect(error.message.endsWith(error.remedy)).toBe(true);
  });
  it('refuses more triangles than the limit', () => {
    expect(thrown(() => readScan(binaryStl(foot), { maxTriangles: 1000 })).code).toBe('too-many-triangles');
  });

  it.each([201, 202, 203])('gives a scan or a CastError, nothing else, under 120 wounded files (seed %i)', (seed) => {
    const random = rng(seed);
    const coarse = footShape({ rings: 24, around: 14 });
    const files = [binaryStl(coarse), binaryPly(coarse), asciiPly(coarse), obj(coarse), asciiStl(coarse)];
    let read = 0;
    for (let n = 0; n < 120; n++) {
      const bytes = mutate(files[n % files.length], files[random.below(files.length)], random);
      try {
        const { mesh } = readScan(bytes);
        expect(mesh.positions.every(Number.isFinite)).toBe(true);
        read++;
      } catch (error) {
        if (!(error instanceof CastError)) throw new Error(`File ${n} of seed ${seed} broke the stage.`, { cause: error });
      }
    }
    expect(read).toBeGreaterThan(1);
    expect(read).toBeLessThan(115);
  });

  it('judges the size by the greatest piece where others lie about', () => {
    const crumbs = Array.from({ length: 5 }, (_, i) => ({ ...icosphere(4, 1), positions: icosphere(4, 1).positions.map((c, k) => c + (k % 3 === 0 ? 700 * i : 100 * i)) }));
    expect(readScan(binaryStl(merged(foot, ...crumbs))).unit).toBe('mm');
  });
  it.each([20, -200])('is not misled by a table of greater area than the foot, %d mm below it', (below) => {
    const table = { ...gridPlane(30, 30, 700), positions: gridPlane(30, 30, 700).positions.map((c, k) => c - (k % 3 === 2 ? below : 0)) };
    expect(readScan(binaryStl(merged(foot, table))).unit).toBe('mm');
  });
  it('does not look for pieces forever in a cloud of single triangles', () => {
    const random = rng(9);
    const specks = 60_000;
    const positions = Float64Array.from({ length: 9 * specks }, (_, i) => 40 * Math.floor(i / 9) + random.next());
    const started = performance.now();
    expect(thrown(() => readScan(binaryStl({ positions, triangles: Uint32Array.from({ length: 3 * specks }, (_, i) => i) }))).code).toMatch(/flat-surface|size-not-foot/);
    expect(performance.now() - started).toBeLessThan(2000);
  });
});
