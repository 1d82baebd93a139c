import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Offset } from '@cast-to-last/geometry/offset/offset';
import { offsetInward } from '@cast-to-last/geometry/offset/offset';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { revolved, starMesh, withNoise } from '../../support/bodies.ts';
import { crossingPairs } from '../../support/crossing-pairs.ts';
import { closedCylinder, icosphere, openCylinder, uvTorus } from '../../support/meshes.ts';

const offset = (mesh: Mesh, distance: number): Offset => offsetInward(mesh, new Uint8Array(mesh.positions.length / 3), distance);

/** What `off` says of every vertex: least, greatest and mean. */
function spreadOf(mesh: Mesh, off: (x: number, y: number, z: number) => number): { least: number; most: number; mean: number } {
  const all: number[] = [];
  for (let v = 0; v < mesh.positions.length; v += 3) all.push(off(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]));
  return { least: Math.min(...all), most: Math.max(...all), mean: all.reduce((sum, x) => sum + x, 0) / all.length };
}

/** Closed, manifold by the solid kernel's word, outward, and no two triangles through each other by a search of all pairs. */
async function expectSolid({ mesh, crossings }: Offset): Promise<void> {
  expect(crossings).toBe(0);
  expect(crossingPairs(mesh)).toEqual([]);
  const volume = await withSolids((scope) => scope.ofMesh(mesh).volume);
  expect(Math.abs(volume / signedVolume(mesh) - 1)).toBeLessThan(1e-4);
}

describe('inward offset', () => {
  it.each([41, 42])('of a sphere with noise is the smaller sphere, and the noise no larger (seed %i)', async (seed) => {
    const inner = offset(withNoise(icosphere(30, 5), 0.03, seed), 5);
    const { least, most, mean } = spreadOf(inner.mesh, (x, y, z) => Math.hypot(x, y, z) - 25);
    expect(least).toBeGreaterThan(-0.15);
    expect(most).toBeLessThan(0.15);
    expect(Math.abs(mean)).toBeLessThan(0.02);
    expect(inner.filled.includes(1)).toBe(false);
    expect(inner.opening).toBeNull();
    await expectSolid(inner);
  });

  it('of a torus is the thinner torus', async () => {
    const inner = offset(uvTorus(40, 15, 160, 64), 5);
    const { least, most } = spreadOf(inner.mesh, (x, y, z) => Math.hypot(Math.hypot(x, y) - 40, z) - 10);
    expect(least).toBeGreaterThan(-0.1);
    expect(most).toBeLessThan(0.1);
    await expectSolid(inner);
  });

  it('of a box with edges rounded with 9 mm is the smaller box, its edges rounded with 5 mm', async () => {
    const t = 4;
    const rounded = (x: number, y: number, z: number): number => {
      const over = [Math.abs(x) - 21, Math.abs(y) - 16, Math.abs(z) - 13];
      return Math.hypot(...over.map((c) => Math.max(0, c))) + Math.min(0, Math.max(...over));
    };
    const inner = offset(withNoise(starMesh((x, y, z) => rounded(x, y, z) - 9, 5, 60), 0.03, 44), t);
    const { least, most } = spreadOf(inner.mesh, (x, y, z) => rounded(x, y, z) - 5);
    expect(most).toBeLessThan(0.15);
    expect(least).toBeGreaterThan(-0.15);
    await expectSolid(inner);
  });

  it('rises under a bump that is rounder than the distance, and closes where the points under the bump fold over', async () => {
    const t = 5;
    const at = 22;
    const ball = starMesh((x, y, z) => Math.min(Math.hypot(x, y, z) - at, Math.hypot(x - at, y, z) - 3), 6, 40);
    const inner = offset(ball, t);
    // Between the two the nearest points lie on the ring in which the balls meet.
    const ringX = (2 * at * at - 9) / (2 * at);
    const ringR = Math.sqrt(at * at - ringX * ringX);
    const off = (x: number, y: number, z: number): number => {
      const across = Math.hypot(y, z);
      const from = Math.hypot(x, across);
      const bare = (x / from) * at < ringX;
      return (bare ? at - from : Math.hypot(x - ringX, across - ringR)) - t;
    };
    const { least, most } = spreadOf(inner.mesh, off);
    expect(least).toBeGreaterThan(-0.4);
    expect(most).toBeLessThan(0.4);
    expect(inner.cutOff).toBe(0);
    await expectSolid(inner);
  });

  it.each([3, 6])('under the valley between two balls is rounded with the distance of %i mm as radius', async (t) => {
    const apart = 22;
    const R = 20;
    const valley = Math.sqrt(R * R - apart * apart / 4);
    const balls = (x: number, y: number, z: number): number => Math.hypot(Math.abs(x) - apart / 2, y, z) - R;
    const inner = offset(withNoise(starMesh(balls, 6, 60), 0.03, 43), t);
    // The distance from inside to the outside of both balls: to the nearer ball where it is bare there, else to the valley.
    const off = (x: number, y: number, z: number): number => {
      const s = Math.abs(x) - apart / 2;
      const across = Math.hypot(y, z);
      const from = Math.hypot(s, across);
      const bare = apart / 2 + (R * s) / from >= 0;
      return (bare ? R - from : Math.hypot(x, across - valley)) - t;
    };
    const { least, most } = spreadOf(inner.mesh, off);
    expect(least).toBeGreaterThan(-0.4);
    expect(most).toBeLessThan(0.4);
    // The rounding is there in triangles, and not one flat bridge under the valley.
    const under = [...inner.mesh.positions.keys()].filter((i) => i % 3 === 0 && Math.abs(inner.mesh.positions[i]) < 0.5);
    expect(under.length).toBeGreaterThan(30);
    await expectSolid(inner);
  });

  it('leaves the larger end of a body whose neck is thinner than twice the distance, closed, and says how much it cut off', async () => {
    const arc = (x: number, r: number, from: number, to: number): [number, number][] =>
      Array.from({ length: 61 }, (_, i) => from + ((to - from) * i) / 60).map((turn) => [x + r * Math.cos(turn), r * Math.sin(turn)]);
    const mouths = [Math.asin(4 / 18), Math.asin(4 / 14)];
    const [right, left] = [arc(30, 18, 0, Math.PI - mouths[0]), arc(-30, 14, mouths[1], Math.PI)];
    const [start, end] = [right[60][0], left[0][0]];
    const neck = Array.from({ length: 39 }, (_, i): [number, number] => [start + ((end - start) * (i + 1)) / 40, 4]);
    const tips = (line: [number, number][]): [number, number][] => line.map(([x, r], i) => (i === 0 || i === line.length - 1 ? [x, 0] : [x, r]));
    const inner = offset(revolved(tips([...right, ...neck, ...left]), 90), 5);
    // The ball of 13 mm about x = 30, raised by up to 1.6 mm where the neck's mouth is: a ring of 4 mm, from which 5 mm are kept.
    const { least, most } = spreadOf(inner.mesh, (x, y, z) => Math.hypot(x - 30, y, z) - 13);
    expect(most).toBeLessThan(1.7);
    expect(least).toBeGreaterThan(-0.3);
    expect(inner.cutOff).toBeGreaterThan(0.3);
    expect(inner.cutOff).toBeLessThan(0.6);
    await expectSolid(inner);
  });

  it('keeps an opening open, at its height', () => {
    const cup = openCup(30, 60);
    const { mesh, opening, crossings } = offset(cup, 4);
    expect(crossings).toBe(0);
    expect(crossingPairs(mesh)).toEqual([]);
    const twin = twins(mesh);
    expect(twin.includes(-2)).toBe(false);
    expect(boundaryLoops(mesh, twin).length).toBe(1);
    expect(opening).not.toBeNull();
    for (const v of opening ?? []) {
      const [x, y, z] = mesh.positions.subarray(3 * v, 3 * v + 3);
      expect(Math.abs(Math.hypot(x, y) - 26)).toBeLessThan(0.1);
      expect(Math.abs(z - 60)).toBeLessThan(0.1);
    }
    const { least, most } = spreadOf(mesh, (x, y, z) => (z < 30 ? Math.max(4 - z, Math.hypot(x, y) - 26) : Math.hypot(x, y) - 26));
    expect(most).toBeLessThan(0.1);
    expect(least).toBeGreaterThan(-0.6);
  });

  it('closes what it gives up along a groove that runs into the opening', () => {
    const plain = openCup(30, 120);
    const radius = (x: number, y: number, z: number): number => 1 - (x > 0 && z > 25 ? (5 * Math.max(0, 1 - Math.abs(y) / 3)) / 30 : 0);
    const grooved = { ...plain, positions: plain.positions.map((c, i, p) => (i % 3 === 2 ? c : c * radius(p[i - (i % 3)], p[i - (i % 3) + 1], p[i - (i % 3) + 2]))) };
    const { mesh, opening } = offset(grooved, 5);
    expect(boundaryLoops(mesh).length).toBe(1);
    for (const v of opening ?? []) expect(mesh.positions[3 * v + 2]).toBeGreaterThan(110);
  });

  it('hands marks of the surface on', () => {
    const ball = icosphere(30, 4);
    const marked = Uint8Array.from({ length: ball.positions.length / 3 }, (_, v) => (ball.positions[3 * v] > 20 ? 1 : 0));
    const { mesh, filled } = offsetInward(ball, marked, 3);
    for (let v = 0; v < filled.length; v++) expect(filled[v]).toBe(mesh.positions[3 * v] > 18 ? 1 : 0);
  });

  it('brings a very fine mesh to an even spacing first, and marks with it', () => {
    const fine = icosphere(20, 6);
    const { mesh } = offset(fine, 3);
    expect(mesh.triangles.length).toBeLessThan(0.5 * fine.triangles.length);
    const { least, most } = spreadOf(mesh, (x, y, z) => Math.hypot(x, y, z) - 17);
    expect(Math.max(-least, most)).toBeLessThan(0.1);
  });

  it('is empty where nothing is that thick', () => {
    expect(offset(icosphere(10, 3), 12).mesh.triangles.length).toBe(0);
  });
});

/** A cylinder about z closed below and open at z = h. */
function openCup(r: number, h: number): Mesh {
  const n = 150;
  const m = 50;
  const wall = openCylinder(r, h, n, m);
  const rings = 25;
  const positions = [...wall.positions];
  const triangles = [...wall.triangles];
  const ring = (k: number, i: number): number => (k === 0 ? (i % n) * (m + 1) : k === rings ? n * (m + 1) + (rings - 1) * n : n * (m + 1) + (k - 1) * n + (i % n));
  for (let k = 1; k < rings; k++) {
    for (let i = 0; i < n; i++) {
      const s = r * (1 - k / rings);
      positions.push(s * Math.cos((2 * Math.PI * i) / n), s * Math.sin((2 * Math.PI * i) / n), 0);
    }
  }
  positions.push(0, 0, 0);
  for (let k = 0; k < rings; k++) {
    for (let i = 0; i < n; i++) {
      const [a, b, c, d] = [ring(k, i), ring(k, i + 1), ring(k + 1, i), ring(k + 1, i + 1)];
      triangles.push(a, c, b);
      if (k + 1 < rings) triangles.push(b, c, d);
    }
  }
  const cup = { positions: new Float64Array(positions), triangles: new Uint32Array(triangles) };
  const whole = closedCylinder(r, h, n, m);
  if (Math.sign(signedVolume(cup)) !== Math.sign(signedVolume(whole))) throw new Error('the cup is inside out');
  return cup;
}
