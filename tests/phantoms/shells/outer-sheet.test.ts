import { describe, expect, it } from 'vitest';
import { buildSurface } from '../surface/build-surface.js';
import type { Field } from '../surface/implicit.js';
import { randomFrom } from '../random.js';
import { NearSkin } from './near-skin.js';
import { outerSheet } from './outer-sheet.js';
import { shellFoot, type ShellFoot } from './shell-foot.js';
import { drawWall } from './wall.js';

const skinOf = (field: Field, box: number[], triangles: number): NearSkin => new NearSkin(buildSurface(field, Float64Array.from(box), triangles, () => true, randomFrom(1)), field);

describe('true distance to the skin', () => {
  it('is that of a ball and not its field, inside and outside (seed 5)', () => {
    // A ball of radius 20 drawn by a field whose slope is not 1.
    const skin = skinOf((x, y, z) => ((x * x + y * y + z * z) / 400 - 1) * 6, [-40, -40, -40, 40, 40, 40], 6000);
    const random = randomFrom(5);
    for (let i = 0; i < 400; i++) {
      const d = [random.normal(0, 1), random.normal(0, 1), random.normal(0, 1)];
      const r = random.between(14, 30) / Math.hypot(d[0], d[1], d[2]);
      const [x, y, z] = d.map((c) => c * r);
      expect(Math.abs(skin.distance(x, y, z) - (Math.hypot(x, y, z) - 20))).toBeLessThan(1e-3);
      skin.foot.point.forEach((c, k) => expect(Math.abs(c - ([x, y, z][k] * 20) / Math.hypot(x, y, z))).toBeLessThan(0.01));
    }
  });

  it('is the nearer one between two limbs', () => {
    const skin = skinOf((x, y, z) => Math.min(Math.hypot(x - 12, y, z), Math.hypot(x + 12, y, z)) - 8, [-40, -30, -30, 40, 30, 30], 8000);
    for (const [x, y] of [[1, 3], [-2, 6], [0.5, 9], [0, 11]]) {
      expect(Math.abs(skin.distance(x, y, 0) - (Math.hypot(Math.abs(x) - 12, y) - 8))).toBeLessThan(0.01);
    }
  });
});

describe('outside of a shell', () => {
  const foot = shellFoot(randomFrom(31, 'test'), { family: 'bones', rise: 50, ragged: false, triangles: 30_000, denseTriangles: 30_000, merge: 1 }) as ShellFoot;
  const p = foot.skin.mesh.positions;
  const below = (x: number, y: number, z: number): boolean => z < foot.edge(x, y);

  /** Distance to the nearest of the dense clean mesh's vertices, all of which lie on the inner surface, by trying all. */
  const brute = (x: number, y: number, z: number): number => {
    let square = Infinity;
    for (let i = 0; i < p.length; i += 3) square = Math.min(square, (p[i] - x) ** 2 + (p[i + 1] - y) ** 2 + (p[i + 2] - z) ** 2);
    return Math.sqrt(square);
  };

  it.each([[2.5, 0], [6, 0], [5, 0.15]])('wall %f mm, varying by %f: every vertex at the wall from the inner surface, none nearer', (nominal, swing) => {
    const wall = drawWall(randomFrom(3), nominal, swing);
    const sheet = outerSheet(foot.skin, wall, 12_000, below, randomFrom(4));
    expect(sheet.triangles.length / 3).toBeGreaterThan(9000);
    const straight = sheet.straight.reduce((n, s) => n + s, 0);
    expect(straight / sheet.straight.length).toBeGreaterThan(0.97);
    for (let v = 0; v < sheet.straight.length; v += 17) {
      const at = sheet.positions.subarray(3 * v, 3 * v + 3);
      const q = sheet.foot.subarray(3 * v, 3 * v + 3);
      const t = wall(q[0], q[1], q[2]);
      // A point of the inner surface at the wall's distance, and none nearer: that is the distance.
      expect(Math.abs(foot.skin.field(q[0], q[1], q[2]))).toBeLessThan(1e-5);
      const away = Math.hypot(at[0] - q[0], at[1] - q[1], at[2] - q[2]);
      expect(Math.abs(away - t)).toBeLessThan(sheet.straight[v] === 1 ? 1e-9 : 0.1);
      expect(brute(at[0], at[1], at[2])).toBeGreaterThan(t - (sheet.straight[v] === 1 ? 0.01 : 0.05) - swing * 0.3);
    }
  });

  it('fills webs: points of the skin between the toes lie further under it than the wall', () => {
    const wall = drawWall(randomFrom(3), 7, 0);
    const sheet = outerSheet(foot.skin, wall, 12_000, below, randomFrom(4));
    // Creases lie where two parts of the skin are equally near: over webs, ahead of the ball.
    const creases = [...sheet.straight.keys()].filter((v) => sheet.straight[v] === 0);
    expect(creases.length).toBeGreaterThan(5);
    const ahead = creases.filter((v) => sheet.positions[3 * v] > 0.7 * foot.landmarks.footLength).length;
    expect(ahead / creases.length).toBeGreaterThan(0.6);
  });
});
