import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { planeIndex } from '@cast-to-last/geometry/sections/plane-index';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { posed } from '../../support/disturb.ts';
import { ellipsePerimeter, ramanujanPerimeter } from '../../support/ellipse.ts';
import { box, closedCylinder, gridPlane, icosphere, merged, openCylinder, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const cut = (mesh: Mesh, normal: readonly number[], offset: number): SectionCurve[] => section(mesh, twins(mesh), normal, offset);

function lengthOf({ points, closed }: SectionCurve): number {
  const count = points.length / 3;
  let sum = 0;
  for (let i = 0; i + (closed ? 0 : 1) < count; i++) {
    const [a, b] = [3 * i, 3 * ((i + 1) % count)];
    sum += Math.hypot(points[a] - points[b], points[a + 1] - points[b + 1], points[a + 2] - points[b + 2]);
  }
  return sum;
}

/** Triangles with corners on both sides of the plane, a corner on it counting as above. */
function metBy({ positions: p, triangles: t }: Mesh, n: readonly number[], offset: number): number[] {
  const above = (v: number): boolean => n[0] * p[3 * v] + n[1] * p[3 * v + 1] + n[2] * p[3 * v + 2] - offset >= 0;
  const met: number[] = [];
  for (let f = 0; f < t.length / 3; f++) {
    const sides = new Set([above(t[3 * f]), above(t[3 * f + 1]), above(t[3 * f + 2])]);
    if (sides.size === 2) met.push(f);
  }
  return met;
}

/** Distance of a point from the plane of triangle f and how far outside it the point lies (0 inside), both in mm. */
function awayFrom({ positions: p, triangles: t }: Mesh, f: number, q: ArrayLike<number>): number {
  const [a, b, c] = [0, 1, 2].map((k) => [...p.subarray(3 * t[3 * f + k], 3 * t[3 * f + k] + 3)]);
  const sub = (x: ArrayLike<number>, y: ArrayLike<number>): number[] => [0, 1, 2].map((k) => x[k] - y[k]);
  const dot = (x: number[], y: number[]): number => x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
  const [u, v, w] = [sub(b, a), sub(c, a), sub(q, a)];
  const [uu, uv, vv, uw, vw] = [dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)];
  const det = uu * vv - uv * uv;
  const s = (vv * uw - uv * vw) / det;
  const r = (uu * vw - uv * uw) / det;
  const off = w.map((e, k) => e - s * u[k] - r * v[k]);
  return Math.max(Math.hypot(...off), -s, -r, s + r - 1);
}

describe('sections by closed form', () => {
  it.each([[0, 1], [12.3, 2], [-31, 3], [44, 4]])('of a sphere at %f mm is one circle (seed %i)', (offset, seed) => {
    const r = 50;
    const normal = rng(seed).direction();
    const curves = cut(icosphere(r, 5), normal, offset);
    expect(curves).toHaveLength(1);
    const circle = Math.sqrt(r * r - offset * offset);
    // Faces of 2 mm lie up to (2²/3)/2r = 0.013 mm inside the sphere; in the plane that is r/circle times as much.
    const inside = (0.014 * r) / circle;
    const { points } = curves[0];
    for (let i = 0; i < points.length; i += 3) {
      expect(normal[0] * points[i] + normal[1] * points[i + 1] + normal[2] * points[i + 2]).toBeCloseTo(offset, 9);
      const from = Math.hypot(points[i] - offset * normal[0], points[i + 1] - offset * normal[1], points[i + 2] - offset * normal[2]);
      expect(from).toBeLessThan(circle + 1e-9);
      expect(from).toBeGreaterThan(circle - inside);
    }
    const length = lengthOf(curves[0]);
    expect(length).toBeLessThan(2 * Math.PI * circle);
    expect(length).toBeGreaterThan(2 * Math.PI * (circle - inside));
  });

  it.each([0, 20, 45, 60])('of a cylinder tilted by %i° is an ellipse', (deg) => {
    const tilt = (deg * Math.PI) / 180;
    const r = 30;
    const [curve, ...others] = cut(openCylinder(r, 160, 360, 80), [Math.sin(tilt), 0, Math.cos(tilt)], 80 * Math.cos(tilt));
    expect(others).toEqual([]);
    expect(curve.closed).toBe(true);
    const expected = ellipsePerimeter(r, r / Math.cos(tilt));
    expect(ramanujanPerimeter(r, r / Math.cos(tilt)) / expected).toBeCloseTo(1, 8);
    // Chords over 1° lose (π/180)²/24 of a circle, and at most 4 times that at the ends of an ellipse of axes 2 : 1.
    expect(lengthOf(curve) / expected).toBeGreaterThan(1 - 5.1e-5);
    expect(lengthOf(curve) / expected).toBeLessThan(1);
  });

  it('of a torus across its axis is two circles, longest first; through its axis, two of the tube', () => {
    const torus = uvTorus(40, 10, 180, 90);
    const flat = cut(torus, [0, 0, 1], 1e-3).map(lengthOf).sort((a, b) => b - a);
    expect(flat).toHaveLength(2);
    expect(flat[0]).toBeCloseTo(2 * Math.PI * 50, 0);
    expect(flat[1]).toBeCloseTo(2 * Math.PI * 30, 0);
    expect(cut(torus, [1, 0, 0], 1e-3).map(lengthOf)).toEqual([expect.closeTo(20 * Math.PI, 1), expect.closeTo(20 * Math.PI, 1)]);
  });

  it('of a box is its rectangle, also through a row of vertices, which count as above', () => {
    for (const offset of [0, 0.3, -1]) {
      const curves = cut(box(4, 6, 8, 4), [0, 0, 1], offset);
      expect(curves.map(lengthOf)).toEqual([expect.closeTo(20, 9)]);
    }
    expect(cut(box(4, 6, 8, 4), [0, 0, 1], -4)).toEqual([]);
    expect(cut(box(4, 6, 8, 4), [0, 0, 1], 4).map(lengthOf)).toEqual([expect.closeTo(20, 9)]);
  });

  it('of a sheet is open and runs in order from edge to edge', () => {
    const [curve, ...others] = cut(gridPlane(10, 10, 10), [1, 0, 0], 1.3);
    expect(others).toEqual([]);
    expect(curve.closed).toBe(false);
    expect(curve.triangles.length).toBe(curve.points.length / 3 - 1);
    expect(lengthOf(curve)).toBeCloseTo(10, 12);
    const y = curve.points.filter((_, i) => i % 3 === 1);
    if (y[0] > 0) y.reverse();
    expect(y).toEqual(y.slice().sort());
    expect([y[0], y[y.length - 1]]).toEqual([-5, 5]);
  });

  it('of a tube along its axis is two open lines; beyond the mesh, and of no mesh, nothing', () => {
    const tube = openCylinder(10, 40, 32, 8);
    const curves = cut(tube, [0, 1, 0], 0.1);
    expect(curves.map((c) => c.closed)).toEqual([false, false]);
    for (const curve of curves) expect(lengthOf(curve)).toBeCloseTo(40, 9);
    expect(cut(tube, [0, 0, 1], 40.1)).toEqual([]);
    expect(cut({ positions: new Float64Array(0), triangles: new Uint32Array(0) }, [0, 0, 1], 0)).toEqual([]);
  });
});

describe('sections against every triangle asked', () => {
  const shapes: readonly (readonly [string, Mesh])[] = [
    ['sphere', icosphere(50, 4)],
    ['torus', uvTorus(40, 12, 60, 30)],
    ['closed cylinder', closedCylinder(30, 120, 48, 30)],
    ['tube', openCylinder(30, 120, 48, 30)],
    ['long thin box', box(300, 2, 5, 12)],
    ['sphere, box and a far speck', merged(icosphere(20, 3), box(70, 70, 70, 5), { ...icosphere(1, 1), positions: icosphere(1, 1).positions.map((c) => c + 400) })],
  ];
  it.each(shapes.flatMap(([name, mesh], i) => [1, 2].map((k) => [name, 10 * i + k, mesh] as const)))(
    '%s (seed %i): each triangle that the plane meets is met once, in its own segment',
    (_, seed, given) => {
      const random = rng(seed);
      const mesh = posed(given, 100, random);
      const twin = twins(mesh);
      const b = bounds(mesh.positions);
      let met = 0;
      for (let round = 0; round < 25; round++) {
        const n = random.direction();
        const at = [0, 1, 2].map((k) => random.range(b[k], b[k + 3]));
        // Every fifth plane goes exactly through a vertex.
        const v = 3 * random.below(mesh.positions.length / 3);
        const q = round % 5 === 0 ? mesh.positions.subarray(v, v + 3) : at;
        const offset = n[0] * q[0] + n[1] * q[1] + n[2] * q[2];
        const curves = section(mesh, twin, n, offset);
        const passed = curves.flatMap((c) => [...c.triangles]);
        expect(passed.sort((x, y) => x - y)).toEqual(metBy(mesh, n, offset));
        met += passed.length;
        for (const { points, triangles, closed } of curves) {
          const count = points.length / 3;
          expect(triangles.length).toBe(closed ? count : count - 1);
          triangles.forEach((f, i) => {
            for (const end of [i, (i + 1) % count]) expect(awayFrom(mesh, f, points.subarray(3 * end, 3 * end + 3))).toBeLessThan(1e-7);
          });
        }
      }
      expect(met).toBeGreaterThan(100);
    },
  );

  it('seeks the curves that pass a place alone, among them all within reach of it', () => {
    const mesh = uvTorus(40, 12, 60, 30);
    const twin = twins(mesh);
    const key = ({ triangles }: SectionCurve): string => [...triangles].sort((a, b) => a - b).join(' ');
    const whole = section(mesh, twin, [1, 0, 0], 3);
    expect(whole).toHaveLength(2);
    for (const side of [40, -40]) {
      const at = [3, side + 12, 0];
      const near = section(mesh, twin, [1, 0, 0], 3, { at, reach: 2 });
      expect(near.map(key)).toEqual([key(whole.find(({ points }) => Math.sign(points[1]) === Math.sign(side)) as SectionCurve)]);
    }
    expect(section(mesh, twin, [1, 0, 0], 3, { at: [3, 0, 0], reach: 5 })).toEqual([]);
    expect(section(mesh, twin, [1, 0, 0], 3, { at: [3, 0, 0], reach: 90 })).toEqual(whole);
  });

  it('is the same at the second asking', () => {
    const mesh = uvTorus(40, 12, 60, 30);
    const twin = twins(mesh);
    const first = section(mesh, twin, [0.6, 0, 0.8], 3);
    section(mesh, twin, [1, 0, 0], 0.2);
    expect(section(mesh, twin, [0.6, 0, 0.8], 3)).toEqual(first);
  });
});

describe('plane index', () => {
  it.each([['sphere', icosphere(50, 5)], ['long thin box', box(300, 2, 5, 12)], ['one triangle', { positions: new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0]), triangles: new Uint32Array([0, 1, 2]) }]] as const)(
    '%s: every triangle lies in one box, which holds its corners; a plane through the middle asks few of many',
    (_, mesh) => {
      const index = planeIndex(mesh, bounds(mesh.positions));
      expect([...index.triangles].sort((a, b) => a - b)).toEqual(Array.from({ length: mesh.triangles.length / 3 }, (_f, f) => f));
      let asked = 0;
      for (let b = 0; b + 1 < index.offsets.length; b++) {
        if (Math.abs(index.centres[3 * b]) <= index.halves[3 * b]) asked += index.offsets[b + 1] - index.offsets[b];
        for (let i = index.offsets[b]; i < index.offsets[b + 1]; i++) {
          for (const v of mesh.triangles.subarray(3 * index.triangles[i], 3 * index.triangles[i] + 3)) {
            for (let k = 0; k < 3; k++) {
              expect(Math.abs(mesh.positions[3 * v + k] - index.centres[3 * b + k])).toBeLessThanOrEqual(index.halves[3 * b + k] + 1e-12);
            }
          }
        }
      }
      if (mesh.triangles.length > 30_000) expect(asked).toBeLessThan(0.3 * (mesh.triangles.length / 3));
    },
  );
});
