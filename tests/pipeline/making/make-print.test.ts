import { describe, expect, it } from 'vitest';
import type { Point } from '@cast-to-last/foot/landmarks';
import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import { innerDistance } from '@cast-to-last/geometry/distance/inner-distance';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { invertRigid, transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { buildPiece } from '@cast-to-last/pipeline/making/build-piece';
import type { PrintedPiece } from '@cast-to-last/pipeline/making/make-print';
import { makePrint } from '@cast-to-last/pipeline/making/make-print';
import { boresIn } from '@cast-to-last/pipeline/making/piece';
import { splitLast } from '@cast-to-last/pipeline/making/split-last';
import type { PrintRules } from '@cast-to-last/pipeline/rules/making-rules';
import { makingRules } from '@cast-to-last/pipeline/rules/making-rules';
import { footBlob } from '../../support/foot-blob.ts';
import { box } from '../../support/meshes.ts';

type Loose = Parameters<typeof makingRules.parse>[0];
const printRules = (print: Loose): PrintRules => makingRules.parse({ print }).print;

/** A foot-like body cut flat at 90 mm: 260 mm long, its sole at z = 0. */
const last: Promise<Mesh> = withSolids((scope) => scope.ofMesh(footBlob(6)).trimByPlane([0, 0, -1], -90).toMesh());

const inFoot = ({ mesh, transform }: PrintedPiece): Mesh => transformMesh(invertRigid(transform), mesh);
const named = (pieces: readonly PrintedPiece[], name: string): PrintedPiece => {
  const found = pieces.find((p) => p.plan.name === name);
  if (found === undefined) throw new Error(`no piece ${name}`);
  return found;
};

/** What two bodies have in common, mm³, where the first is moved. */
const overlap = (a: Mesh, b: Mesh, by: Point): Promise<number> =>
  withSolids((scope) => {
    const moved = { positions: a.positions.map((c, i) => c + by[i % 3]), triangles: a.triangles };
    return scope.ofMesh(moved).intersect(scope.ofMesh(b)).volume;
  });

describe('printing a solid last in one piece', () => {
  it('leaves it as it is, stood on the bed', async () => {
    const mesh = await last;
    const { pieces, plates, warnings } = await makePrint(mesh, printRules({}));
    expect([pieces.length, plates, warnings]).toEqual([1, 1, []]);
    const [{ mesh: printed, written, wall, volume, file }] = pieces;
    expect([file, wall]).toEqual(['print-last.stl', null]);
    expect(written).toEqual({ triangles: mesh.triangles.length / 3, closed: true, pieces: 1, volume: expect.closeTo(signedVolume(mesh), -2) });
    expect(volume / signedVolume(mesh)).toBeCloseTo(1, 5);
    const b = bounds(printed.positions);
    expect(b[2]).toBeCloseTo(0, 4);
    expect(Math.min(b[0], b[1])).toBeGreaterThan(4.99);
  });
});

describe('hollowing', () => {
  it.each([3, 6])('of a block leaves the block less a block smaller by the wall of %d mm on every side, and its drains', async (wallMm) => {
    const block = box(120, 80, 60, 4);
    const { pieces: [piece], warnings } = await makePrint(block, printRules({ body: 'hollow', wallMm, drain: { count: 2, diameterMm: 5 } }));
    expect(warnings).toEqual([]);
    expect(piece.drains).toBe(2);
    const { wall } = piece;
    if (wall === null) throw new Error('not hollow');
    expect(wall.hollow / ((120 - 2 * wallMm) * (80 - 2 * wallMm) * (60 - 2 * wallMm))).toBeGreaterThan(0.96);
    expect(wall.least).toBeGreaterThan(wallMm - 0.05);
    expect(wall.median).toBeLessThan(wallMm + 0.5);
    // Two drains of 5 mm through one wall.
    const bored = 120 * 80 * 60 - wall.hollow - piece.volume;
    expect(bored).toBeGreaterThan(2 * Math.PI * 2.5 ** 2 * wallMm * 0.95);
    expect(bored).toBeLessThan(2 * Math.PI * 2.5 ** 2 * (wallMm + 1));
    expect(piece.thin.least).toBeGreaterThan(wallMm - 0.1);
    expect([piece.written.closed, piece.written.pieces]).toEqual([true, 1]);
  });
  it('leaves solid what is too thin for a hollow, and says so', async () => {
    const { pieces: [piece], warnings } = await makePrint(box(100, 60, 14, 2), printRules({ body: 'hollow', wallMm: 6.5 }));
    expect(piece.wall).toBeNull();
    expect(piece.volume).toBeCloseTo(100 * 60 * 14, 0);
    expect(warnings.join()).toContain('left solid');
  });
  it('keeps the wall in every part of a last that comes apart, at its cuts and sockets too, and drains it where the shoe does not show', async () => {
    const mesh = await last;
    const { pieces, warnings } = await makePrint(mesh, printRules({ body: 'hollow', wallMm: 4, split: { by: 'plane' } }));
    expect(warnings).toEqual([]);
    expect(pieces.map((p) => p.plan.name)).toEqual(['heel', 'fore']);
    const tree = surfaceTree(mesh);
    const found = newNearestPoint();
    for (const piece of pieces) {
      expect([piece.written.closed, piece.written.pieces, piece.drains]).toEqual([true, 1, 2]);
      expect(piece.wall?.least).toBeGreaterThan(3.85);
      expect(piece.thin.least).toBeGreaterThan(3.6);
      // Where a drain breaks the surface of the last, a ring of vertices lies inside it by next to nothing: there is none but at the cut.
      const foot = inFoot(piece);
      const [{ face }] = piece.plan.cuts;
      for (let i = 0; i < foot.positions.length; i += 3) {
        const [x, y, z] = foot.positions.subarray(i, i + 3);
        const fromCut = face.offset - face.normal[0] * x - face.normal[1] * y - face.normal[2] * z;
        if (fromCut < 3) continue;
        nearestOnSurface(tree, x, y, z, found);
        expect(found.distance < 1e-3 || found.distance > 3.5).toBe(true);
      }
    }
  });
});

describe('splitting so that the last comes out of the shoe', () => {
  it('by a wedge: it can be drawn up its way without meeting the others, which are then free of each other', async () => {
    const mesh = await last;
    const { pieces, drawn, warnings } = await makePrint(mesh, printRules({ split: { by: 'wedge', leanDeg: 5 }, pins: { clearanceMm: 0.2 } }));
    expect(warnings).toEqual([]);
    expect(pieces.map((p) => p.plan.name)).toEqual(['wedge', 'heel', 'fore']);
    if (drawn === null) throw new Error('nothing is drawn');
    const [wedge, heel, fore] = pieces.map(inFoot);
    const whole = signedVolume(mesh);
    const sum = pieces.reduce((total, p) => total + p.volume, 0);
    // Only the clearance is missing.
    expect(sum / whole).toBeGreaterThan(0.999);
    expect(sum).toBeLessThan(whole);
    for (const other of [heel, fore]) {
      // In place they touch along the cut; faces that were turned to the bed and back may lie in each other by thousandths.
      for (const by of [0, 2, 10, 30, 60]) expect(await overlap(wedge, other, [by * drawn[0], by * drawn[1], by * drawn[2]])).toBeLessThan(0.5);
      // The rail does hold it sideways.
      expect(await overlap(wedge, other, [0, 1, 0])).toBeGreaterThan(5);
    }
    // Without the wedge the heel part can come forward by its width at the sole.
    expect(await overlap(heel, fore, [13.5, 0, 0])).toBe(0);
  });
  it('by a plane: the heel part slides up along it, and nothing but that way frees it', async () => {
    const mesh = await last;
    const { pieces, drawn } = await makePrint(mesh, printRules({ split: { by: 'plane', leanDeg: 20 } }));
    const [heel, fore] = [inFoot(named(pieces, 'heel')), inFoot(named(pieces, 'fore'))];
    if (drawn === null) throw new Error('nothing is drawn');
    expect(drawn[0]).toBeCloseTo(Math.sin(Math.PI / 9), 6);
    for (const by of [0, 1, 5, 20, 50]) expect(await overlap(heel, fore, [by * drawn[0], 0, by * drawn[2]])).toBeLessThan(0.5);
    for (const by of [[0, 1, 0], [0, -1, 0], [-1, 0, 0], [-drawn[0], 0, -drawn[2]]] as const) expect(await overlap(heel, fore, by)).toBeGreaterThan(3);
  });
  it.each([0, 0.3])('leaves %d mm between pin and socket', async (clearanceMm) => {
    const mesh = await last;
    const { split, pins } = printRules({ split: { by: 'plane' }, pins: { clearanceMm } });
    const { pieces } = splitLast(innerDistance(mesh, 2), bounds(mesh.positions), split, pins);
    const [heel, fore] = await withSolids((scope) => pieces.map((plan) => buildPiece(scope, scope.ofMesh(mesh), plan).toMesh()));
    const [pin] = pieces[0].cuts[0].pins;
    const tree = surfaceTree(fore);
    const found = newNearestPoint();
    let least = Infinity;
    // Points of the rail's round, well inside the last and beyond the cut.
    for (let i = 0; i < heel.positions.length; i += 3) {
      const p = heel.positions.subarray(i, i + 3);
      const d = [0, 1, 2].map((k) => p[k] - pin.origin[k]);
      const at = d[0] * pin.axis[0] + d[1] * pin.axis[1] + d[2] * pin.axis[2];
      const off = Math.sqrt(Math.max(0, d[0] ** 2 + d[1] ** 2 + d[2] ** 2 - at * at));
      const { face } = pieces[0].cuts[0];
      if (Math.abs(off - pins.diameterMm / 2) > 0.01 || face.normal[0] * p[0] + face.normal[2] * p[2] - face.offset < 1) continue;
      nearestOnSurface(tree, p[0], p[1], p[2], found);
      least = Math.min(least, found.distance);
    }
    expect(least).toBeGreaterThan(clearanceMm - 0.02);
    expect(least).toBeLessThan(clearanceMm + 0.02);
  });
  it('refuses cuts that miss the last', async () => {
    await expect(makePrint(await last, printRules({ split: { by: 'plane', at: 0.2, leanDeg: -30 } })).then((job) => job.pieces.length)).resolves.toBe(2);
    await expect(makePrint(box(30, 60, 60, 2), printRules({ split: { by: 'wedge', wedgeWidthMm: 60 } }))).rejects.toMatchObject({ code: 'split-misses-last' });
  });
});

describe('splitting to fit the bed', () => {
  it('halves what does not fit until it does, with pins in sockets, and lays all pieces apart in the bed', async () => {
    const mesh = await last;
    const rules = printRules({ bedMm: [110, 120, 120], gapMm: 4 });
    const { pieces, plates, warnings } = await makePrint(mesh, rules);
    expect(warnings).toEqual([]);
    expect(pieces.length).toBeGreaterThan(2);
    expect(new Set(pieces.map((p) => p.file)).size).toBe(pieces.length);
    for (const piece of pieces) {
      const b = bounds(piece.mesh.positions);
      expect(Math.min(b[0], b[1])).toBeGreaterThan(4 - 1e-3);
      expect(b[2]).toBeGreaterThan(-1e-3);
      expect(b[3]).toBeLessThan(110 - 4 + 1e-3);
      expect(b[4]).toBeLessThan(120 - 4 + 1e-3);
      expect(b[5]).toBeLessThan(120 + 1e-3);
      expect([piece.written.closed, piece.written.pieces]).toEqual([true, 1]);
      expect(twins(piece.mesh).every((h) => h >= 0)).toBe(true);
    }
    expect(plates).toBe(1 + Math.max(...pieces.map((p) => p.plate)));
    const count = (which: 'pins' | 'sockets'): number => pieces.reduce((sum, p) => sum + boresIn(p.plan, which).length, 0);
    expect(count('pins')).toBeGreaterThan(1);
    expect(count('sockets')).toBe(count('pins'));
    // Together they are the last less the clearance of the sockets, and do not meet.
    const whole = signedVolume(mesh);
    const sum = pieces.reduce((total, p) => total + p.volume, 0);
    expect(sum).toBeLessThan(whole);
    expect(sum / whole).toBeGreaterThan(0.998);
    const feet = pieces.map(inFoot);
    for (let i = 0; i < feet.length; i++) for (let j = 0; j < i; j++) expect(await overlap(feet[i], feet[j], [0, 0, 0])).toBeLessThan(0.5);
  });
  it('refuses a bed that is too small', async () => {
    await expect(makePrint(await last, printRules({ bedMm: [40, 40, 40], gapMm: 10 }))).rejects.toMatchObject({ code: 'bed-too-small' });
  });
});
