import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { compose, invertRigid, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import type { Side } from '@cast-to-last/foot/side';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { AlignedCast, RepairedCast } from '@cast-to-last/pipeline/records';
import { alignCast, wholeTo } from '@cast-to-last/pipeline/stages/align';
import { makePhantom } from '../../phantoms/make-phantom.ts';
import { mirrorMesh } from '../../phantoms/surface/mirror-mesh.ts';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { closedCylinder, openCylinder } from '../../support/meshes.ts';
import { repair } from '../../support/repaired.ts';
import { rng } from '../../support/rng.ts';

const plain = { triangles: 10_000, denseTriangles: 8000, side: 'right', posed: false, dents: 4, bumps: 1, ridges: 1, seam: true, debris: false, missingSole: false, noise: 0.05 } as const;
const feet = ([[81, 'bones', 'cut'], [82, 'sections', 'ragged'], [83, 'blunt', 'capped'], [84, 'sections', 'cut']] as const).map(([seed, family, top]) => {
  const { scan, truth } = makePhantom(seed, { ...plain, family, top });
  return { seed, scan, truth };
});

function anyPose(seed: number): Transform {
  const random = rng(seed);
  const r = random.rotation();
  return new Float64Array([r[0], r[1], r[2], random.range(-400, 400), r[3], r[4], r[5], random.range(-400, 400), r[6], r[7], r[8], random.range(-400, 400), 0, 0, 0, 1]);
}

const refusal = (run: () => unknown): CastError => {
  try {
    run();
  } catch (error) {
    if (error instanceof CastError) return error;
    throw error;
  }
  throw new Error('was not refused');
};

/** A mesh as repair would hand it on. */
const asRepaired = (mesh: Mesh): RepairedCast => {
  const [opening] = boundaryLoops(mesh);
  const none = { weldedVertices: 0, degenerateTriangles: 0, duplicateTriangles: 0, piecesDropped: 0, trianglesDropped: 0, trianglesFlipped: 0, nonManifoldEdges: 0, nonManifoldVertices: 0, holesFilled: 0, areaFilled: 0 };
  return { mesh, opening: opening ?? null, filled: new Uint8Array(mesh.positions.length / 3), repairs: none, warnings: [], outerSheet: null, openCuts: [] };
};

const { PI } = Math;
const degrees = (t: Transform): number => (Math.acos(Math.min(1, Math.max(-1, (t[0] + t[5] + t[10] - 1) / 2))) * 180) / PI;

describe.each(feet)('alignment of phantom $seed', ({ seed, scan, truth }) => {
  it.each([['right', 1], ['right', 2], ['left', 3], ['left', 4]] as const)('as a %s foot from any pose (%i): within 5° and 3 mm of its frame, rigid, nothing lost', (side, k) => {
    const pose = anyPose(10 * seed + k);
    const repaired = repair(transformMesh(pose, side === 'left' ? mirrorMesh(scan) : scan));
    const aligned = alignCast(repaired, side);
    const error = compose(aligned.transform, pose);
    expect(degrees(error)).toBeLessThan(5);
    const p = truth.clean.positions;
    const clean = side === 'left' ? p.map((c, i) => (i % 3 === 1 ? -c : c)) : p;
    const moved = transformPositions(error, clean);
    expect(Math.sqrt(moved.reduce((sum, c, i) => sum + (c - clean[i]) ** 2, 0) / (moved.length / 3))).toBeLessThan(3);
    expect(aligned.mesh.positions).toEqual(transformPositions(aligned.transform, repaired.mesh.positions));
    expect(aligned.mesh.triangles).toBe(repaired.mesh.triangles);
    expect([aligned.opening, aligned.filled]).toEqual([repaired.opening, repaired.filled]);
    expect(degrees(compose(aligned.transform, invertRigid(aligned.transform)))).toBeLessThan(1e-5);
    expect(Math.sign(aligned.landmarks.medialBall[1])).toBe(side === 'right' ? 1 : -1);
    expect(Math.abs(aligned.landmarks.footLength - truth.landmarks.footLength)).toBeLessThan(1.5);
  });
});

describe('a foot of unusual proportions', () => {
  // A breadth of half the foot length, say, is far beyond the 99th percentile of adults (ANSUR II), but feet that need a last of their own have it.
  it.each(feet.flatMap((f) => ([[1.35, 1.25], [1.3, 1], [0.8, 0.8]] as const).map(([wide, high]) => [f.seed, wide, high, f] as const)))('is stood up as any other (seed %i, %d times as wide, %d times as high)', (seed, wide, high, { scan, truth }) => {
    const standing = transformPositions(truth.transform, scan.positions).map((c, i) => c * [1, wide, high][i % 3]);
    const pose = anyPose(seed + 5);
    const aligned = alignCast(repair(transformMesh(pose, { positions: standing, triangles: scan.triangles })), 'right');
    expect(degrees(compose(aligned.transform, pose))).toBeLessThan(8);
  });
});

describe('feet of children and very large ones', () => {
  it.each(feet.flatMap((f) => [116, 150, 340].map((length) => [f.seed, length, f] as const)))('are repaired and stood up as any other (seed %i, %d mm long)', (seed, length, { scan, truth }) => {
    const factor = length / truth.landmarks.footLength;
    const pose = anyPose(seed + 3);
    const repaired = repair(transformMesh(pose, { positions: scan.positions.map((c) => factor * c), triangles: scan.triangles }));
    expect(repaired.opening === null).toBe(repair(scan).opening === null);
    const aligned = alignCast(repaired, 'right');
    expect(degrees(compose(aligned.transform, pose))).toBeLessThan(5);
    expect(Math.abs(aligned.landmarks.footLength - length)).toBeLessThan(1.5 * Math.max(1, factor));
  });
});

describe('a leg that leans', () => {
  /** All that stands above the ankle turned about it, forward by so many degrees, the turn growing over a fifth of foot length. */
  const leaning = (positions: Float64Array, footLength: number, degreesForward: number): Float64Array => {
    const [atX, atZ] = [0.22 * footLength, 0.3 * footLength];
    const out = positions.slice();
    for (let i = 0; i < out.length; i += 3) {
      const share = Math.max(0, Math.min(1, (out[i + 2] / footLength - 0.22) / 0.2));
      const turn = (share * share * (3 - 2 * share) * degreesForward * PI) / 180;
      const [x, z] = [out[i] - atX, out[i + 2] - atZ];
      out[i] = atX + x * Math.cos(turn) + z * Math.sin(turn);
      out[i + 2] = atZ - x * Math.sin(turn) + z * Math.cos(turn);
    }
    return out;
  };

  it.each(([[85, 'bones'], [86, 'sections']] as const).flatMap(([seed, family]) => [110, 280].flatMap((rise) => [-20, 20, 30].map((lean) => [seed, family, rise, lean] as const))))(
    'leaves the foot where it stands (seed %i, %s, %d mm above the ankle, %d° forward)',
    (seed, family, rise, lean) => {
      const { scan, truth } = makePhantom(seed, { ...plain, family, top: 'cut', rise, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0 });
      const standing = leaning(transformPositions(truth.transform, scan.positions), truth.landmarks.footLength, lean);
      const pose = anyPose(seed + lean);
      const aligned = alignCast(repair(transformMesh(pose, { positions: standing, triangles: scan.triangles })), 'right');
      expect(degrees(compose(aligned.transform, pose))).toBeLessThan(5);
      expect(Math.abs(aligned.landmarks.footLength - truth.landmarks.footLength)).toBeLessThan(2);
    },
  );
});

describe('an opening that is none', () => {
  it.each(feet.map((f) => [f.seed, f] as const))('on top of the toes, as where a thin shell lost them, leaves the foot a foot (seed %i)', (seed, { scan, truth }) => {
    const pose = anyPose(seed + 9);
    const repaired = repair(transformMesh(pose, scan));
    const p = transformPositions(compose(truth.transform, invertRigid(pose)), repaired.mesh.positions);
    const { ballCentre: [, y], footLength } = truth.landmarks;
    const x = 0.85 * footLength;
    // The highest vertices of a ring of 8 to 10 mm there, clockwise seen from above: the surface lies to the left.
    const turn = (v: number): number => -Math.atan2(p[3 * v + 1] - y, p[3 * v] - x);
    const ring = [...repaired.filled.keys()].filter((v) => Math.abs(Math.hypot(p[3 * v] - x, p[3 * v + 1] - y) - 9) < 1 && p[3 * v + 2] > 15).sort((a, b) => turn(a) - turn(b));
    const aligned = alignCast({ ...repaired, opening: Uint32Array.from(ring) }, 'right');
    expect(degrees(compose(aligned.transform, compose(pose, invertRigid(truth.transform))))).toBeLessThan(5);
  });
});

describe('the side', () => {
  it.each(feet.map((f) => [f.seed, f.scan] as const))('booked in wrongly is refused, with what to do, and can be overridden (seed %i)', (seed, scan) => {
    for (const wrong of ['left', 'right'] as Side[]) {
      const repaired = repair(transformMesh(anyPose(seed), wrong === 'right' ? mirrorMesh(scan) : scan));
      const shown = wrong === 'left' ? 'right' : 'left';
      const error = refusal(() => alignCast(repaired, wrong));
      expect(error.code).toBe('side-contradiction');
      expect(error.message).toContain(`booked in as a ${wrong} foot`);
      expect(error.remedy).toContain(`--side ${shown}`);
      const forced: AlignedCast = alignCast(repaired, wrong, { overrideSide: true });
      expect(forced.side).toBe(wrong);
      expect(forced.warnings.join()).toContain(`looks like a ${shown} foot`);
    }
  });
});

describe('what is no foot', () => {
  it.each<[string, Mesh]>([
    ['a cylinder', closedCylinder(45, 260, 96, 80)],
    ['a pipe', openCylinder(45, 260, 96, 80)],
    ['an egg', ellipsoid([130, 100, 95], [0, 0, 0], 5)],
    ['a rod', ellipsoid([130, 15, 15], [0, 0, 0], 5)],
    ['a foot of twice the size', { ...feet[0].scan, positions: feet[0].scan.positions.map((c) => 2 * c) }],
  ])('%s is refused as such', (_, mesh) => {
    const error = refusal(() => alignCast(asRepaired(transformMesh(anyPose(3), mesh)), 'left', { overrideSide: true }));
    expect(error.code).toBe('not-a-foot');
    expect(error.remedy.length).toBeGreaterThan(20);
  });
});

describe('how far up a cast is whole', () => {
  it('is the lowest point of its opening; without one there is no limit', () => {
    const tube = openCylinder(30, 100, 12, 4);
    const tilted = { positions: tube.positions.map((c, i, all) => (i % 3 === 2 ? c + 0.5 * all[i - 2] : c)), triangles: tube.triangles };
    const top = boundaryLoops(tilted).find((loop) => tube.positions[3 * loop[0] + 2] === 100) as Uint32Array;
    expect(wholeTo(tilted, top)).toBeCloseTo(85, 9);
    expect(wholeTo(tilted, null)).toBe(Infinity);
  });
});

describe('a foot cut level below the ankle and closed there', () => {
  // Turned over on its cap and the back of the foot it has much the same outline: all three were taken for feet of the other side.
  it.each([[130, 75], [131, 75], [133, 90]])('stands on its sole (seed %i, cut at %i mm)', async (seed, height) => {
    const { scan, truth } = makePhantom(seed, { triangles: 16_000, denseTriangles: 16_000, unit: 'mm', top: 'capped', posed: false, debris: false, holes: 0, missingSole: false });
    const low = await withSolids((scope) => scope.ofMesh(scan).trimByPlane([0, 0, -1], -height).toMesh());
    const { transform } = alignCast(repair(low), truth.side);
    expect(transform[10]).toBeGreaterThan(0.99);
    expect(transform[0]).toBeGreaterThan(0.99);
  });
});
