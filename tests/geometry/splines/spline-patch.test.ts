import { describe, expect, it } from 'vitest';
import type { SplineFitOptions, SplinePatch } from '@cast-to-last/geometry/splines/spline-patch';
import { fitSplinePatch, newPatchFoot, pointOnPatch, projectToPatch } from '@cast-to-last/geometry/splines/spline-patch';
import { rng } from '../../support/rng.ts';

type Surface = (u: number, v: number) => readonly [number, number, number];

const OPTIONS: SplineFitOptions = { half: 20, spacing: 3.5, bendLength: 0, curlLength: 1.3 };

/** The surface sampled 1 mm apart over the square, except where `hole` says so, and its patch. */
function fitted(surface: Surface, hole: (u: number, v: number) => boolean, options = OPTIONS, noise = (): number => 0): SplinePatch {
  const flat: number[] = [];
  const points: number[] = [];
  const weights: number[] = [];
  for (let u = -options.half; u <= options.half; u++) {
    for (let v = -options.half; v <= options.half; v++) {
      const [x, y, z] = surface(u, v);
      flat.push(u, v);
      points.push(x, y, z + noise());
      weights.push(hole(u, v) ? 0 : 1);
    }
  }
  return fitSplinePatch(Float64Array.from(flat), Float64Array.from(points), Float64Array.from(weights), options);
}

/** Greatest distance of patch and surface at the same (u, v), inside the radius given. */
function worst(patch: SplinePatch, surface: Surface, radius: number): number {
  const at = new Float64Array(3);
  let most = 0;
  for (let u = -radius; u <= radius; u += 0.7) {
    for (let v = -radius; v <= radius; v += 0.7) {
      if (Math.hypot(u, v) > radius) continue;
      pointOnPatch(patch, u, v, at);
      const [x, y, z] = surface(u, v);
      most = Math.max(most, Math.hypot(at[0] - x, at[1] - y, at[2] - z));
    }
  }
  return most;
}

const nowhere = (): boolean => false;
const disc = (radius: number) => (u: number, v: number): boolean => Math.hypot(u, v) < radius;

const R = 50;
/** The sphere under its pole, by distance and direction from it. */
const sphere: Surface = (u, v) => {
  const s = Math.hypot(u, v);
  const k = s === 0 ? 1 : (R * Math.sin(s / R)) / s;
  return [k * u, k * v, R * Math.cos(s / R) - R];
};

describe('fitting a spline patch', () => {
  const plane: Surface = (u, v) => [3 + 0.8 * u - 0.1 * v, 0.2 * u + 0.9 * v, -1 + 0.3 * u + 0.2 * v];
  const quadric: Surface = (u, v) => [u, v, 0.01 * u * u - 0.006 * u * v - 0.004 * v * v + 0.1 * u + 2];

  it('reproduces a plane with any stiffness, and a quadric unless its bending is held down, through a hole of 20 mm too', () => {
    // Neither energy speaks against a plane, the third derivative's not against a quadric; what is left is the whisper of
    // stiffness that keeps the matrix definite, a 1e-9th.
    for (const hole of [nowhere, disc(10)]) {
      expect(worst(fitted(plane, hole), plane, 19)).toBeLessThan(1e-5);
      expect(worst(fitted(plane, hole, { ...OPTIONS, bendLength: 2, curlLength: 0 }), plane, 19)).toBeLessThan(1e-5);
      expect(worst(fitted(quadric, hole), quadric, 19)).toBeLessThan(1e-4);
    }
    expect(worst(fitted(quadric, disc(10), { ...OPTIONS, bendLength: 3, curlLength: 0 }), quadric, 10)).toBeGreaterThan(0.01);
  });

  it('carries a sphere of 50 mm over holes of 16 and 24 mm within 0.001 mm', () => {
    expect(worst(fitted(sphere, disc(8)), sphere, 8)).toBeLessThan(0.001);
    expect(worst(fitted(sphere, disc(12)), sphere, 12)).toBeLessThan(0.001);
    expect(worst(fitted(sphere, nowhere), sphere, 18)).toBeLessThan(0.001);
  });

  it.each([1, 2])('takes noise of 0.1 mm down to a third of it where there are points (seed %i)', (seed) => {
    const random = rng(seed);
    const patch = fitted(sphere, nowhere, OPTIONS, () => 0.1 * random.normal());
    const at = new Float64Array(3);
    let [sum, count] = [0, 0];
    for (let u = -15; u <= 15; u += 0.7) {
      for (let v = -15; v <= 15; v += 0.7, count++) {
        pointOnPatch(patch, u, v, at);
        sum += (at[2] - sphere(u, v)[2]) ** 2;
      }
    }
    const left = Math.sqrt(sum / count);
    expect(left).toBeLessThan(0.1 / 3);
    // A cell of 3.5 mm holds some 12 points: no more than their number averages away.
    expect(left).toBeGreaterThan(0.1 / 12);
  });

  it('carries on over a hole alike whichever way the flat coordinates are turned', () => {
    // A wave that no polynomial of the energy's null space follows, so that the hole shows what the energy asks for.
    const wave: Surface = (u, v) => [u, v, 2 * Math.sin(u / 5) * Math.cos(v / 7)];
    for (const stiffness of [{ bendLength: 0, curlLength: 3 }, { bendLength: 3, curlLength: 0 }]) {
      const heights = [0, Math.PI / 6, Math.PI / 4].map((turn) => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)];
        // Points in a disc, so that the square's corners do not matter; (u, v) of the turned patch is the wave's (c·u − s·v, s·u + c·v).
        const patch = fitted((u, v) => wave(c * u - s * v, s * u + c * v), (u, v) => Math.hypot(u, v) < 7 || Math.hypot(u, v) > 18, { ...OPTIONS, spacing: 1.5, ...stiffness });
        const at = new Float64Array(3);
        return [[0, 0], [4, 0], [0, 4], [-3, 3], [5, 1]].map(([x, y]) => {
          pointOnPatch(patch, c * x + s * y, c * y - s * x, at);
          return at[2];
        });
      });
      for (const turned of heights.slice(1)) turned.forEach((h, i) => expect(Math.abs(h - heights[0][i])).toBeLessThan(0.02));
    }
  });

  it('heeds weights: a dent that weighs nothing leaves no trace', () => {
    const dented: Surface = (u, v) => (disc(8)(u, v) ? [u, v, -2] : quadric(u, v));
    expect(worst(fitted(dented, disc(8)), quadric, 15)).toBeLessThan(1e-4);
    expect(worst(fitted(dented, nowhere), quadric, 5)).toBeGreaterThan(1);
  });

  it('without points is a point at the origin rather than a failure', () => {
    expect(worst(fitted(sphere, () => true), () => [0, 0, 0], 15)).toBeLessThan(1e-6);
  });
});

describe('the foot on a patch', () => {
  const patch = fitted(sphere, nowhere);

  it.each([3, 4])('of a point over a sphere lies radially under it, at its height; below the surface the height is negative (seed %i)', (seed) => {
    const random = rng(seed);
    for (let i = 0; i < 40; i++) {
      const [u, v] = [random.range(-12, 12), random.range(-12, 12)];
      const h = random.range(-3, 3);
      const [x, y, z] = sphere(u, v);
      const n = [x / R, y / R, (z + R) / R];
      const foot = { ...newPatchFoot(), u: u + random.range(-3, 3), v: v + random.range(-3, 3) };
      projectToPatch(patch, x + h * n[0], y + h * n[1], z + h * n[2], foot, 6);
      expect(foot.over).toBeCloseTo(h, 2);
      expect(Math.hypot(foot.x - x, foot.y - y, foot.z - z)).toBeLessThan(0.01);
      expect(foot.nx * n[0] + foot.ny * n[1] + foot.nz * n[2]).toBeGreaterThan(1 - 1e-5);
      const at = new Float64Array(3);
      pointOnPatch(patch, foot.u, foot.v, at);
      expect([...at]).toEqual([foot.x, foot.y, foot.z]);
      // What is left over the foot runs along the normal.
      const off = [x + h * n[0] - foot.x - foot.over * foot.nx, y + h * n[1] - foot.y - foot.over * foot.ny, z + h * n[2] - foot.z - foot.over * foot.nz];
      expect(Math.hypot(...off)).toBeLessThan(1e-4);
    }
  });
});
