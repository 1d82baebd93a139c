import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { fair } from '@cast-to-last/geometry/smoothing/fair';
import { fillHoles } from '@cast-to-last/geometry/repair/fill-holes';
import type { Filled } from '@cast-to-last/geometry/repair/fill-holes';
import { separateFans } from '@cast-to-last/geometry/repair/non-manifold';
import { eulerCharacteristic, signedVolume, surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops, twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { cutAway } from '../../support/foot-blob.ts';
import { gridPlane, icosphere, openCylinder, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const fillAll = (mesh: Mesh): Filled => fillHoles(mesh, vertexTriangles(mesh), boundaryLoops(mesh));

/** Root mean square and greatest distance of the new vertices from the true surface. */
function fillError(filled: Filled, distance: (x: number, y: number, z: number) => number): { rms: number; most: number; count: number } {
  const p = filled.mesh.positions;
  let square = 0;
  let most = 0;
  let count = 0;
  for (let v = filled.firstVertex; v < p.length / 3; v++) {
    const e = Math.abs(distance(p[3 * v], p[3 * v + 1], p[3 * v + 2]));
    square += e * e;
    most = Math.max(most, e);
    count++;
  }
  return { rms: Math.sqrt(square / count), most, count };
}

const R = 40;
const toSphere = (x: number, y: number, z: number): number => Math.hypot(x, y, z) - R;
const toTorus = (x: number, y: number, z: number): number => Math.hypot(Math.hypot(x, y) - 60, z) - 25;
const semi = [60, 40, 30];
/** First-order distance to the ellipsoid: the form's value over its gradient. */
const toEllipsoid = (x: number, y: number, z: number): number => {
  const q = [x, y, z].map((c, k) => c / semi[k]);
  return (q[0] ** 2 + q[1] ** 2 + q[2] ** 2 - 1) / (2 * Math.hypot(q[0] / semi[0], q[1] / semi[1], q[2] / semi[2]));
};
const round = (mesh: Mesh, c: readonly number[], radius: number): Mesh =>
  cutAway(mesh, (x, y, z) => Math.hypot(x - c[0], y - c[1], z - c[2]) < radius);

describe('fillHoles carries on the curvature', () => {
  const ball = icosphere(R, 6);
  for (const [radius, limit] of [[2.5, 0.01], [5, 0.005], [10, 0.005], [16, 0.005], [24, 0.015]] as const) {
    it(`hole of radius ${radius} in a sphere of radius 40: RMS within ${limit} of the hole's radius`, () => {
      const open = round(ball, [0, 0, R], radius);
      const filled = fillAll(open);
      expect(fillError(filled, toSphere).rms).toBeLessThan(limit * radius);
      const twin = twins(filled.mesh);
      expect(twin.every((h) => h >= 0)).toBe(true);
      expect(eulerCharacteristic(filled.mesh, twin)).toBe(2);
      expect(signedVolume(filled.mesh) / ((4 / 3) * Math.PI * R ** 3)).toBeCloseTo(1, 2);
      expect(filled.mesh.positions.subarray(0, open.positions.length)).toEqual(open.positions);
      expect(filled.mesh.triangles.subarray(0, open.triangles.length)).toEqual(open.triangles);
    });
  }

  const torus = uvTorus(60, 25, 300, 140);
  for (const [where, centre] of [['outside', [85, 0, 0]], ['on top', [60, 0, 25]], ['inside', [35, 0, 0]]] as const) {
    for (const radius of [5, 12]) {
      it(`hole of radius ${radius} ${where} in a torus 60, 25: RMS within 1 % of the hole's radius`, () => {
        const filled = fillAll(round(torus, centre, radius));
        expect(fillError(filled, toTorus).rms).toBeLessThan(0.01 * radius);
        const twin = twins(filled.mesh);
        expect(twin.every((h) => h >= 0)).toBe(true);
        expect(eulerCharacteristic(filled.mesh, twin)).toBe(0);
      });
    }
  }

  const unit = icosphere(1, 6);
  const ellipsoid = { positions: unit.positions.map((c, i) => c * semi[i % 3]), triangles: unit.triangles };
  for (const centre of [[60, 0, 0], [0, 40, 0], [0, 0, 30], [34.6, 23.1, 17.3]]) {
    it(`hole of radius 8 at ${centre.join(', ')} in an ellipsoid 60, 40, 30: RMS within 1.5 % of the hole's radius`, () => {
      expect(fillError(fillAll(round(ellipsoid, centre, 8)), toEllipsoid).rms).toBeLessThan(0.015 * 8);
    });
  }

  it('continues a tube round its axis', () => {
    const tube = cutAway(openCylinder(30, 120, 160, 100), (x, y, z) => Math.hypot(x - 30, y, z - 60) < 12);
    const holes = boundaryLoops(tube).filter((loop) => loop.every((v) => tube.positions[3 * v + 2] > 1 && tube.positions[3 * v + 2] < 119));
    const filled = fillHoles(tube, vertexTriangles(tube), holes);
    expect(fillError(filled, (x, y) => Math.hypot(x, y) - 30).rms).toBeLessThan(0.12);
    expect(boundaryLoops(filled.mesh).length).toBe(2);
  });
});

describe('fillHoles does not amplify noise', () => {
  for (const [seed, noise] of [[51, 0.03], [52, 0.1], [53, 0.1]]) {
    it(`ragged rims with ${noise} mm of noise give a fill closer than the noise (seed ${seed})`, () => {
      const random = rng(seed);
      const ball = icosphere(R, 6);
      const step = 0.7;
      const positions = new Float64Array(ball.positions.length);
      for (let v = 0; v < positions.length; v += 3) {
        const p = [0, 1, 2].map((k) => ball.positions[v + k] + 0.4 * step * (random.next() - 0.5));
        const scale = (R + noise * random.normal()) / Math.hypot(...p);
        for (let k = 0; k < 3; k++) positions[v + k] = scale * p[k];
      }
      for (const radius of [4, 10]) {
        const ragged = (x: number, y: number): number => radius + step * Math.sin(17 * Math.atan2(y, x));
        const cut = cutAway({ positions, triangles: ball.triangles }, (x, y, z) => z > 0 && Math.hypot(x, y) < ragged(x, y));
        const open = separateFans(cut, twins(cut)).mesh;
        const error = fillError(fillAll(open), toSphere);
        expect(error.rms).toBeLessThan(0.6 * noise + 0.01);
        expect(error.most).toBeLessThan(2 * noise + 0.02);
      }
    });
  }
});

describe('fillHoles keeps the mesh manifold', () => {
  const check = (open: Mesh): Filled => {
    const filled = fillAll(open);
    expect(twins(filled.mesh).every((h) => h >= 0)).toBe(true);
    expect(filled.mesh.positions.every(Number.isFinite)).toBe(true);
    expect(Array.from(filled.starts).every((s, i, all) => i === 0 || s > all[i - 1])).toBe(true);
    return filled;
  };
  const drop = (mesh: Mesh, gone: (t: number) => boolean): Mesh => ({
    positions: mesh.positions,
    triangles: mesh.triangles.filter((_, h) => !gone(Math.floor(h / 3))),
  });

  it('a single missing triangle comes back as it was', () => {
    const ball = icosphere(20, 3);
    const filled = check(drop(ball, (t) => t === 100));
    expect(filled.mesh.positions.length).toBe(ball.positions.length);
    expect(surfaceArea(filled.mesh)).toBeCloseTo(surfaceArea(ball), 9);
  });

  it('holes whose rims share corners with triangles that stick out', () => {
    const ball = icosphere(20, 4);
    const p = ball.positions;
    const t0 = ball.triangles;
    const near = (t: number): boolean => [0, 1, 2].some((k) => Math.hypot(p[3 * t0[3 * t + k]] - 0.3, p[3 * t0[3 * t + k] + 1] - 0.2) < 5 && p[3 * t0[3 * t + k] + 2] > 0);
    const jagged = drop(ball, (t) => near(t) && t % 4 !== 0);
    const separated = separateFans(jagged, twins(jagged)).mesh;
    const main = boundaryLoops(separated);
    expect(main.length).toBeGreaterThan(0);
    const filled = fillAll(separated);
    expect(twins(filled.mesh).every((h) => h >= 0)).toBe(true);
  });

  for (const seed of [61, 62, 63, 64]) {
    it(`triangles dropped at random (seed ${seed})`, () => {
      const random = rng(seed);
      const torus = uvTorus(60, 25, 120, 60);
      const share = random.range(0.01, 0.1);
      const torn = drop(torus, () => false);
      const gone = Uint8Array.from({ length: torus.triangles.length / 3 }, () => (random.next() < share ? 1 : 0));
      const open = drop(torn, (t) => gone[t] === 1);
      const separated = separateFans(open, twins(open)).mesh;
      const filled = fillAll(separated);
      expect(twins(filled.mesh).every((h) => h >= 0)).toBe(true);
      expect(fillError(filled, toTorus).most).toBeLessThan(1);
      expect(signedVolume(filled.mesh) / (2 * Math.PI ** 2 * 60 * 25 ** 2)).toBeCloseTo(1, 1);
    });
  }

  it('a slit along a tube', () => {
    const tube = icosphere(40, 5);
    const open = cutAway(tube, (_x, y, z) => Math.abs(z) < 1.2 && y > 15);
    const separated = separateFans(open, twins(open)).mesh;
    const filled = check(separated);
    expect(fillError(filled, toSphere).most).toBeLessThan(0.3);
  });

  it('a hole that is most of a ball costs few triangles and stays in bounds', () => {
    const cup = cutAway(icosphere(60, 6), (_x, _y, z) => z > 5);
    const filled = check(cup);
    expect(filled.mesh.triangles.length - cup.triangles.length).toBeLessThan(1.5 * cup.triangles.length);
    const top = filled.mesh.positions.reduce((most, c, i) => (i % 3 === 2 ? Math.max(most, c) : most), -Infinity);
    expect(top).toBeGreaterThan(8);
    expect(top).toBeLessThan(30);
  });
});

describe('fair', () => {
  it('leaves a plane plane, and every vertex outside the patch bit for bit', () => {
    const sheet = gridPlane(30, 30, 60);
    const free: number[] = [];
    for (let v = 0; v < sheet.positions.length / 3; v++) if (Math.hypot(sheet.positions[3 * v], sheet.positions[3 * v + 1]) < 12) free.push(v);
    const bumped = sheet.positions.slice();
    for (const v of free) bumped[3 * v + 2] = 5;
    const vertices = Uint32Array.from(free);
    const out = fair({ positions: bumped, triangles: sheet.triangles }, [{ vertices, band: 6, smoothing: 0.5, tension: Infinity }]);
    for (const v of free) expect(Math.abs(out[3 * v + 2])).toBeLessThan(1e-6);
    const moved = new Set(free);
    for (let v = 0; v < out.length / 3; v++) {
      if (!moved.has(v)) expect(out.subarray(3 * v, 3 * v + 3)).toEqual(bumped.subarray(3 * v, 3 * v + 3));
    }
  });

  it('gives one answer whatever the scale', () => {
    const ball = icosphere(1, 4);
    const free = Uint32Array.from({ length: ball.positions.length / 3 }, (_, v) => v).filter((v) => ball.positions[3 * v + 2] > 0.9);
    const at = (scale: number): Float64Array =>
      fair({ positions: ball.positions.map((c) => c * scale), triangles: ball.triangles }, [
        { vertices: free, band: 0.3 * scale, smoothing: 0.03 * scale, tension: Infinity },
      ]).map((c) => c / scale);
    const [one, thousand] = [at(1), at(1000)];
    for (let i = 0; i < one.length; i++) expect(thousand[i]).toBeCloseTo(one[i], 7);
  });

  it('with tension draws a steep patch tight', () => {
    const tube = openCylinder(50, 60, 100, 24);
    const end = boundaryLoops(tube).filter((loop) => tube.positions[3 * loop[0] + 2] > 30);
    const around = vertexTriangles(tube);
    const height = (tension: number): number => {
      const { mesh, firstVertex } = fillHoles(tube, around, end, tension);
      return mesh.positions.subarray(3 * firstVertex).reduce((most, c, i) => (i % 3 === 2 ? Math.max(most, c - 60) : most), -Infinity);
    };
    expect(height(8)).toBeGreaterThan(3);
    expect(height(8)).toBeLessThan(12);
    expect(height(2)).toBeLessThan(3);
    expect(height(Infinity)).toBeGreaterThan(15);
  });
});
