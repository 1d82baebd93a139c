import { describe, expect, it } from 'vitest';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { withCrispEdges } from '../../services/review/src/parts/geometry/crisp-edges.ts';
import { cutBody } from '../../services/review/src/parts/geometry/cut-body.ts';
import { deviationOf } from '../../services/review/src/parts/geometry/deviation-of.ts';
import { facingOut } from '../../services/review/src/parts/geometry/facing-out.ts';
import { groundOf } from '../../services/review/src/parts/geometry/ground-of.ts';
import { keep } from '../../services/review/src/parts/geometry/kept-bodies.ts';
import { pick } from '../../services/review/src/parts/geometry/pick.ts';
import { planeOf, sectionOf } from '../../services/review/src/bench/order/section-state.ts';
import { icosphere } from '../support/meshes.ts';

const ball = icosphere(50, 5);
const floats = (values: ArrayLike<number>): Float32Array => Float32Array.from(values);

describe('the thread that holds the meshes', () => {
  keep('left:cleaned', ball);
  keep('right:cleaned', { ...ball, positions: ball.positions.map((c) => 1.02 * c) });

  it('cuts a body with the tape round it', () => {
    const cut = cutBody({ body: 'left:cleaned', plane: { normal: [0.6, 0, 0.8], offset: 30 }, felt: false, through: null });
    expect(cut?.curves.map(({ closed }) => closed)).toEqual([true]);
    expect(Math.abs((cut?.tape?.length ?? 0) - 2 * Math.PI * 40)).toBeLessThan(0.3);
    expect(cutBody({ body: 'left:cleaned', plane: { normal: [1, 0, 0], offset: 80 }, felt: false, through: null })).toEqual({ curves: [], tape: null });
    expect(cutBody({ body: 'left:none', plane: { normal: [1, 0, 0], offset: 0 }, felt: false, through: null })).toBeNull();
  });

  it('finds what a ray meets', () => {
    const met = pick({ body: 'left:cleaned', from: [0, 0, 200], along: [0, 0, -1] });
    expect(met?.point[2]).toBeCloseTo(50, 0);
    expect(met?.normal[2]).toBeGreaterThan(0.99);
    expect(pick({ body: 'left:cleaned', from: [0, 90, 200], along: [0, 0, -1] })).toBeNull();
  });

  it('tells how far one body stands off another, from both sides', () => {
    const asked = { first: 'left:cleaned', second: 'right:cleaned', mirrored: true, transform: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1], positions: floats(ball.positions), normals: floats(vertexNormals(ball)) };
    for (const d of deviationOf({ ...asked, of: 'first' }) ?? []) expect(Math.abs(d + 1)).toBeLessThan(0.05);
    const out = deviationOf({ ...asked, of: 'second', positions: floats(ball.positions.map((c) => 1.02 * c)) }) ?? [];
    expect(out.length).toBe(ball.positions.length / 3);
    for (const d of out) expect(Math.abs(d - 1)).toBeLessThan(0.05);
  });

  it('gives each vertex the last ground that it lies on, whatever their sizes', () => {
    const codes = groundOf({ positions: floats(ball.positions), grounds: [{ code: 2, points: floats([50, 0, 0]), radius: 20 }, { code: 4, points: floats([50, 0, 0, 0, 50, 0]), radius: 5 }] });
    codes.forEach((code, v) => {
      const [x, y, z] = ball.positions.subarray(3 * v, 3 * v + 3);
      const [a, b] = [Math.hypot(x - 50, y, z), Math.hypot(x, y - 50, z)];
      expect(code).toBe(a <= 5 || b <= 5 ? 4 : a <= 20 ? 2 : 0);
    });
  });

  it('leaves light off the far side of an edge and a smooth surface as it is', () => {
    const smooth = withCrispEdges(ball, floats(vertexNormals(ball)));
    expect(smooth.positions.length).toBe(ball.positions.length);
    const corner = { positions: Float64Array.from([0, 0, 0, 10, 0, 0, 0, 10, 0, 0, 0, 10]), triangles: Uint32Array.from([0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3]) };
    const crisp = withCrispEdges(corner, floats(vertexNormals(corner)));
    for (let f = 0; f < 3; f++) for (let i = 3 * f; i < 3 * f + 3; i++) expect([...crisp.normals.subarray(3 * crisp.triangles[i], 3 * crisp.triangles[i] + 3)].map((c) => Math.round(c) + 0)).toEqual([[0, 0, -1], [0, -1, 0], [-1, 0, 0]][f]);
  });
});

describe('the movable section', () => {
  it('laid where a tape lies is in the plane of that tape, on either foot', () => {
    const normal = [0.86, 0.3, -0.41].map((c) => c / Math.hypot(0.86, 0.3, -0.41));
    const u = [-normal[1], normal[0], 0].map((c) => c / Math.hypot(normal[0], normal[1]));
    const v = [normal[1] * u[2] - normal[2] * u[1], normal[2] * u[0] - normal[0] * u[2], normal[0] * u[1] - normal[1] * u[0]];
    const line = Array.from({ length: 24 }, (_, i) => [0, 1, 2].map((k) => [140, 5, 40][k] + 45 * (Math.cos(i / 4) * u[k] + Math.sin(i / 4) * v[k]))).flat();
    for (const medial of [1, -1] as const) {
      const at = sectionOf(line, medial);
      expect(at).not.toBeNull();
      const plane = planeOf(at ?? { x: 0, tilt: 0, swing: 0 }, medial);
      for (let i = 0; i < line.length; i += 3) expect(Math.abs(plane.normal[0] * line[i] + plane.normal[1] * line[i + 1] + plane.normal[2] * line[i + 2] - plane.offset)).toBeLessThan(1e-6);
    }
  });
});

describe('triangles that were turned over', () => {
  it('are turned back, and no others', () => {
    const triangles = ball.triangles.slice();
    for (const t of [0, 17, 400]) [triangles[3 * t + 1], triangles[3 * t + 2]] = [triangles[3 * t + 2], triangles[3 * t + 1]];
    const turned = facingOut(ball.positions, vertexNormals(ball), triangles);
    const { positions: p } = ball;
    for (let t = 0; t < turned.length; t += 3) {
      const [a, b, c] = [3 * turned[t], 3 * turned[t + 1], 3 * turned[t + 2]];
      const [ux, uy, uz, vx, vy, vz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2], p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
      expect((uy * vz - uz * vy) * p[a] + (uz * vx - ux * vz) * p[a + 1] + (ux * vy - uy * vx) * p[a + 2]).toBeGreaterThan(0);
    }
  });
});
