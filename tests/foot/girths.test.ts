import { describe, expect, it } from 'vitest';
import type { Wrapped } from '@cast-to-last/foot/girths';
import { TILT, allCurves, curveThrough, girthInPlane, shortestGirth, tiltedGirth } from '@cast-to-last/foot/girths';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { ellipsePerimeter } from '../support/ellipse.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { merged, openCylinder } from '../support/meshes.ts';

const wrapped = (mesh: Mesh, filled = (_x: number, _y: number, _z: number): boolean => false): Wrapped => {
  const made = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => +filled(mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]));
  return { mesh, twin: twins(mesh), filled: made };
};

/** The wall of a cylinder about the line y = `at`, z = 0, from x = −100 to 100. */
const lying = (r: number, at = 0): Mesh => {
  const { positions: p, triangles } = openCylinder(r, 200, 240, 100);
  return { positions: p.map((_, i) => [p[i - (i % 3) + 2] - 100, p[i - (i % 3)] + at, p[i - (i % 3) + 1]][i % 3]), triangles };
};

const R = 35;
const tube = wrapped(lying(R));
/** Chords over 1.5° lose (1.5° in radians)²/24 of a circle, and four times that where an ellipse of axes 2 : 1 turns. */
const LOSS = (1.5 * (Math.PI / 180)) ** 2 / 24;
const UP = [0, 0, 1];
const ACROSS = [0, 1, 0];

describe('girth in a plane', () => {
  it.each([0, 20, 45, 60])('tilted by %i° round a cylinder is the perimeter of the ellipse', (deg) => {
    const tilt = (deg * Math.PI) / 180;
    const girth = tiltedGirth(tube, [70, 0, R], tilt);
    const expected = ellipsePerimeter(R, R / Math.cos(tilt));
    expect((girth?.length ?? 0) / expected).toBeGreaterThan(1 - 4 * LOSS);
    expect((girth?.length ?? 0) / expected).toBeLessThan(1);
  });

  it('leans with its lower part to the heel', () => {
    const xs = tiltedGirth(tube, [0, 0, R], 0.5)?.line.filter((_, i) => i % 3 === 0) ?? new Float64Array(1);
    expect(Math.min(...xs)).toBeCloseTo(-2 * R * Math.tan(0.5), 2);
    expect(Math.max(...xs)).toBeCloseTo(0, 2);
  });

  it('goes round the toes side by side in one, or round the one that is asked for', () => {
    const toes = wrapped(merged(lying(8), lying(8, 30)));
    expect(girthInPlane(toes, [3, 0, 0], ACROSS, UP, allCurves)?.length).toBeCloseTo(2 * Math.PI * 8 + 60, 1);
    expect(girthInPlane(toes, [3, 0, 0], ACROSS, UP, curveThrough([3, 28, 8]))?.length).toBeCloseTo(2 * Math.PI * 8, 1);
    const line = girthInPlane(toes, [3, 0, 0], ACROSS, UP, curveThrough([3, 28, 8]))?.line ?? new Float64Array(0);
    for (let i = 1; i < line.length; i += 3) expect(line[i]).toBeGreaterThan(21);
  });

  it('is none off the surface, and none where the section is open', () => {
    expect(girthInPlane(tube, [120, 0, 0], ACROSS, UP, allCurves)).toBeNull();
    expect(girthInPlane(tube, [0, 0, 0], [1, 0, 0], ACROSS, allCurves)).toBeNull();
    expect(tiltedGirth(tube, [99, 0, R], -Math.PI / 4)).toBeNull();
    expect(girthInPlane(tube, [0, 0, 0], ACROSS, UP, () => [])).toBeNull();
  });

  it('says how much of its line lies on made-up surface', () => {
    const share = (filled: (x: number, y: number, z: number) => boolean): number | undefined => girthInPlane(wrapped(lying(R), filled), [0.5, 0, 0], ACROSS, UP, allCurves)?.onFilled;
    expect(share(() => false)).toBe(0);
    expect(share(() => true)).toBe(1);
    expect(share((x) => Math.abs(x) > 10)).toBe(0);
    expect(share((_x, _y, z) => z < 0)).toBeCloseTo(0.5, 1);
    expect(share((_x, y, z) => y > 0 && z < 0)).toBeCloseTo(0.25, 1);
  });
});

describe('shortest girth', () => {
  it('round a cylinder is the upright one', () => {
    const found = shortestGirth(tube, [10, 0, R]);
    expect(found?.girth.length).toBeCloseTo(2 * Math.PI * R * (1 - LOSS), 2);
    // Half a degree off upright adds (0.5°)²/4 of the girth, 0.004 mm: no tape feels it, and facets hide it.
    expect(Math.abs(found?.tilt ?? 9)).toBeLessThan(0.6 * (Math.PI / 180));
  });

  it.each([-12, 15, 25, 40])('round a cylinder that falls by %i° to the toes stands across it', (deg) => {
    const fall = (deg * Math.PI) / 180;
    const { mesh } = tube;
    const p = mesh.positions;
    const [c, s] = [Math.cos(fall), Math.sin(fall)];
    const leaning = wrapped({ positions: p.map((e, i) => [c * e + s * p[i + 2], e, c * e - s * p[i - 2]][i % 3]), triangles: mesh.triangles });
    const found = shortestGirth(leaning, [s * R, 0, c * R]);
    expect(found?.girth.length).toBeCloseTo(2 * Math.PI * R * (1 - LOSS), 2);
    expect(Math.abs((found?.tilt ?? 9) - fall)).toBeLessThan(0.6 * (Math.PI / 180));
  });

  it('through the side of an ellipsoid is the least over the tilts allowed, by closed form', () => {
    const [a, b, c] = [130, 45, 35];
    const body = wrapped(ellipsoid([a, b, c], [0, 0, 0], 6));
    const x = 60;
    const z = c * Math.sqrt(1 - (x / a) ** 2);
    let least = Infinity;
    for (let deg = TILT.fromDeg; deg <= TILT.toDeg; deg += 0.05) {
      const [dx, dz] = [Math.sin((deg * Math.PI) / 180), Math.cos((deg * Math.PI) / 180)];
      // The chord of the profile from the point along (dx, dz), and the section's half-axis along y over its middle.
      const t = (-2 * ((x * dx) / a ** 2 + (z * dz) / c ** 2)) / (dx ** 2 / a ** 2 + dz ** 2 / c ** 2);
      const [mx, mz] = [x + (t * dx) / 2, z + (t * dz) / 2];
      least = Math.min(least, ellipsePerimeter(Math.abs(t) / 2, b * Math.sqrt(1 - (mx / a) ** 2 - (mz / c) ** 2)));
    }
    // Facets of 2.3 mm lie up to 0.005 mm inside, all round: 0.03 mm.
    expect(shortestGirth(body, [x, 0, z])?.girth.length).toBeGreaterThan(least - 0.03);
    expect(shortestGirth(body, [x, 0, z])?.girth.length).toBeLessThan(least + 0.001);
  });

  it('sought from a tilt near to it is the same', () => {
    const leaning = wrapped(ellipsoid([130, 45, 35], [0, 0, 0], 6));
    const point = [60, 0, 35 * Math.sqrt(1 - (60 / 130) ** 2)] as const;
    const found = shortestGirth(leaning, point);
    for (const off of [-25, -4, 0, 3, 12]) expect(shortestGirth(leaning, point, (found?.tilt ?? NaN) + (off * Math.PI) / 180)).toEqual(found);
    expect(shortestGirth(leaning, point, Math.PI)).toEqual(found);
  });

  it('is none where every section is open', () => {
    const half = lying(R);
    const trough = { positions: half.positions, triangles: half.triangles.filter((_, h, t) => [0, 1, 2].every((k) => half.positions[3 * t[h - (h % 3) + k] + 2] > -20)) };
    expect(shortestGirth(wrapped(trough), [0, 0, R])).toBeNull();
  });
});
