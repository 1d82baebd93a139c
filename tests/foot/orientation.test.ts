import { describe, expect, it } from 'vitest';
import type { Opening, Pose } from '@cast-to-last/foot/orientation';
import { axisAgreement, likelyPoses, scorePose } from '@cast-to-last/foot/orientation';
import { sideEvidence } from '@cast-to-last/foot/side-evidence';
import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { thinOut } from '@cast-to-last/geometry/remeshing/thin-out';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { compose, invertRigid, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { mirrorMesh } from '../phantoms/surface/mirror-mesh.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { box } from '../support/meshes.ts';
import { rng } from '../support/rng.ts';

const plain = { triangles: 6000, denseTriangles: 8000, side: 'right', posed: false, dents: 2, bumps: 1, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false } as const;
const feet = ([[71, 'bones', 'cut'], [72, 'sections', 'capped'], [73, 'blunt', 'cut'], [74, 'bones', 'ragged'], [75, 'sections', 'cut'], [76, 'blunt', 'capped']] as const).map(
  ([seed, family, top]) => makePhantom(seed, { ...plain, family, top }),
);

/** Any rotation and shift. */
function anyPose(seed: number): Transform {
  const random = rng(seed);
  const r = random.rotation();
  return new Float64Array([r[0], r[1], r[2], random.range(-300, 300), r[3], r[4], r[5], random.range(-300, 300), r[6], r[7], r[8], random.range(-300, 300), 0, 0, 0, 1]);
}

const degrees = (cosine: number): number => (Math.acos(Math.min(1, cosine)) * 180) / Math.PI;

describe.each(feet)('the pose of phantom $seed', ({ seed, scan, truth }) => {
  const points = thinOut(scan.positions, diagonal(scan.positions) / 45);

  it.each([1, 2])('is found first, or with the next likely ones, from anywhere (pose %i)', (k) => {
    const pose = anyPose(10 * seed + k);
    const found = likelyPoses(transformPositions(pose, points), null, 6);
    const toFoot = compose(truth.transform, invertRigid(pose));
    const off = found.map((p) => degrees(axisAgreement(p.transform, toFoot)));
    // Directions are tried some 7° apart, and poses nearer than 14° to a better one are left out.
    expect(Math.min(...off)).toBeLessThan(14);
    expect(off[0]).toBeLessThan(25);
    expect(found.map((p) => p.misfit)).toEqual(found.map((p) => p.misfit).sort((a, b) => a - b));
  });

  it('fits better than heel before toes, sole up, or lying on a side', () => {
    const t = truth.transform;
    const [x, y, z] = [0, 4, 8].map((r) => t.subarray(r, r + 3));
    const minus = (v: Float64Array): Float64Array => v.map((c) => -c);
    const right = scorePose(points, x, z, null).misfit;
    expect(right).toBeLessThan(40);
    for (const [along, up] of [[minus(x), z], [x, minus(z)], [minus(x), minus(z)], [x, y], [z, x]]) {
      expect(scorePose(points, along, up, null).misfit).toBeGreaterThan(1.5 * right + 10);
    }
  });

  it('tells left from right, the mirrored foot as surely as the foot', () => {
    const standing = transformPositions(truth.transform, scan.positions);
    const right = sideEvidence(standing, truth.landmarks.footLength);
    const left = sideEvidence(mirrorMesh({ positions: standing, triangles: scan.triangles }).positions, truth.landmarks.footLength);
    expect(right.verdict).toBeGreaterThan(0.25);
    expect(right.verdict).toBeLessThanOrEqual(1);
    expect(left.verdict).toBeCloseTo(-right.verdict, 6);
    const grown = sideEvidence(standing.map((c) => 1.25 * c), 1.25 * truth.landmarks.footLength);
    expect(grown.verdict).toBeCloseTo(right.verdict, 6);
  });
});

describe('poses', () => {
  it('have an opening at the top only: poses with the opening below are not thought of', () => {
    const { scan, truth } = feet[0];
    const points = thinOut(scan.positions, diagonal(scan.positions) / 45);
    const back = invertRigid(truth.transform);
    const up = [back[2], back[6], back[10]] as const;
    const centre = [...transformPositions(back, new Float64Array([40, 0, 180]))] as [number, number, number];
    const upOf = ({ transform: t }: Pose, n: readonly number[]): number => t[8] * n[0] + t[9] * n[1] + t[10] * n[2];
    const opening: Opening = { centre, normal: up };
    for (const pose of likelyPoses(points, opening, 6)) expect(upOf(pose, up)).toBeGreaterThanOrEqual(0);
    expect(degrees(axisAgreement(likelyPoses(points, opening, 1)[0].transform, truth.transform))).toBeLessThan(25);
  });

  it('are rigid, differ from each other, and stand on z = 0 with the heel at x = 0', () => {
    const points = thinOut(feet[2].scan.positions, 8);
    const found = likelyPoses(points, null, 6);
    found.forEach((a, i) => {
      const [x, y, z] = [0, 4, 8].map((r) => a.transform.subarray(r, r + 3));
      const dot = (u: Float64Array, v: Float64Array): number => u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
      for (const [u, v] of [[x, x], [y, y], [z, z]]) expect(dot(u, v)).toBeCloseTo(1, 9);
      for (const [u, v] of [[x, y], [y, z], [z, x]]) expect(dot(u, v)).toBeCloseTo(0, 9);
      for (const b of found.slice(i + 1)) expect(degrees(axisAgreement(a.transform, b.transform))).toBeGreaterThan(13.9);
      const p = transformPositions(a.transform, points);
      expect(Math.min(...p.filter((_, k) => k % 3 === 0))).toBeCloseTo(0, 6);
      expect(Math.min(...p.filter((_, k) => k % 3 === 2))).toBeCloseTo(0, 6);
    });
  });

  it('of a ball and of a brick fit worse than any of a foot', () => {
    const worstFoot = Math.max(...feet.map(({ scan }) => likelyPoses(thinOut(scan.positions, diagonal(scan.positions) / 45), null, 1)[0].misfit));
    for (const mesh of [ellipsoid([130, 130, 130], [0, 0, 0], 4), box(260, 250, 240, 12)]) {
      expect(likelyPoses(thinOut(mesh.positions, diagonal(mesh.positions) / 45), null, 1)[0].misfit).toBeGreaterThan(2 * worstFoot);
    }
  });
});

describe('side evidence', () => {
  it('of a body that is its own mirror image is none', () => {
    const { verdict, signs } = sideEvidence(ellipsoid([130, 45, 35], [130, 0, 35], 5).positions, 260);
    expect(Math.abs(verdict)).toBeLessThan(0.05);
    expect(signs.map((s) => s.name)).toHaveLength(5);
    for (const sign of signs) expect(Number.isFinite(sign.value)).toBe(true);
  });

  it('of nothing is 0', () => {
    expect(sideEvidence(new Float64Array(0), 260).verdict).toBe(0);
  });

  it('reads a toe tip that lies to +Y as a right foot', () => {
    const p = ellipsoid([130, 45, 35], [130, 0, 35], 5).positions.map((c, i, all) => (i % 3 === 1 ? c + 15 * (all[i - 1] / 260) ** 4 : c));
    const tip = sideEvidence(p, 260).signs.find((s) => s.name === 'toe tip');
    expect(tip?.value).toBeGreaterThan(1);
  });
});
