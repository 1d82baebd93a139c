import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { register } from '@cast-to-last/geometry/distance/register';
import { sampleSurface } from '@cast-to-last/geometry/remeshing/sample-surface';
import { surfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { invertRigid, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { noisy } from '../../support/disturb.ts';
import { cutAway, footBlob } from '../../support/foot-blob.ts';
import { icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';
import type { Rng } from '../../support/rng.ts';

/** A turn of up to `angle` radians about some axis and a shift of up to `reach`. */
function motion(random: Rng, angle: number, reach: number): Transform {
  const [x, y, z] = random.direction();
  const a = random.range(-angle, angle);
  const [s, c] = [Math.sin(a), 1 - Math.cos(a)];
  const shift = [0, 1, 2].map(() => random.range(-reach, reach));
  return Float64Array.of(
    1 - c * (y * y + z * z), c * x * y - s * z, c * x * z + s * y, shift[0],
    c * x * y + s * z, 1 - c * (x * x + z * z), c * y * z - s * x, shift[1],
    c * x * z - s * y, c * y * z + s * x, 1 - c * (x * x + y * y), shift[2],
    0, 0, 0, 1,
  );
}

/** How far `found` takes the points of a moved mesh from where they were, root mean square. */
function error(mesh: Mesh, moved: Transform, found: Transform): number {
  const back = transformPositions(found, transformPositions(moved, mesh.positions));
  return Math.sqrt((3 * back.reduce((sum, c, i) => sum + (c - mesh.positions[i]) ** 2, 0)) / back.length);
}

const body = cutAway(footBlob(5), (_x, _y, z) => z > 130);

describe('one surface laid on another', () => {
  it.each([101, 102, 103])('comes back to where it was (seed %i)', (seed) => {
    const random = rng(seed);
    const moved = motion(random, 0.1, 6);
    const found = register(sampleSurface(transformMesh(moved, body), 4000), surfaceTarget(body))!;
    expect(error(body, moved, found.transform)).toBeLessThan(1e-3);
    expect(found.rms).toBeLessThan(1e-9);
    expect(found.usedShare).toBeGreaterThan(0.95);
    const inverse = invertRigid(found.transform);
    const [x, y, z] = transformPositions(found.transform, transformPositions(inverse, Float64Array.of(100, 20, 30)));
    expect(Math.hypot(x - 100, y - 20, z - 30)).toBeLessThan(1e-9);
  });

  it.each([111, 112, 113])('within 0.1 mm with noise, another density and another top edge (seed %i)', (seed) => {
    const random = rng(seed);
    const moved = motion(random, 0.06, 4);
    const other = noisy(cutAway(coarsen(body, 4).mesh, (x, y, z) => z > 90 + 0.2 * x - 0.1 * y), 0.05, random);
    const moving = transformMesh(moved, noisy(body, 0.05, random));
    const found = register(sampleSurface(moving, 6000), surfaceTarget(other))!;
    expect(error(body, moved, found.transform)).toBeLessThan(0.1);
  });

  it.each([121, 122, 123])('is not steered by parts that really differ: dents, and a part that is 6 mm thicker (seed %i)', (seed) => {
    const random = rng(seed);
    const moved = motion(random, 0.05, 4);
    const p = body.positions.slice();
    const dents = Array.from({ length: 8 }, () => 3 * random.below(p.length / 3));
    for (let i = 0; i < p.length; i += 3) {
      for (const d of dents) {
        const away = Math.hypot(body.positions[i] - body.positions[d], body.positions[i + 1] - body.positions[d + 1], body.positions[i + 2] - body.positions[d + 2]);
        if (away < 12) p[i + 2] -= 3 * (1 - away / 12);
      }
      // The toes longer by 6 mm, gradually.
      if (p[i] > 200) p[i] += (6 * (p[i] - 200)) / 60;
      if (p[i] > 90 && p[i] < 140 && p[i + 2] > 40) p[i + 2] += 6;
    }
    const found = register(sampleSurface(transformMesh(moved, body), 6000), surfaceTarget({ positions: p, triangles: body.triangles }))!;
    expect(error(body, moved, found.transform)).toBeLessThan(0.15);
    expect(found.usedShare).toBeLessThan(0.95);
  });

  it('is none where the two do not meet', () => {
    const far = transformMesh(Float64Array.of(1, 0, 0, 500, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1), body);
    expect(register(sampleSurface(far, 1000), surfaceTarget(body))).toBeNull();
  });

  it('keeps its motion rigid on a ball, which may turn as it likes', () => {
    const found = register(sampleSurface(icosphere(20.4, 4), 2000), surfaceTarget(icosphere(20, 4)))!;
    const m = found.transform;
    for (const [r, q] of [[0, 4], [0, 8], [4, 8]]) expect(Math.abs(m[r] * m[q] + m[r + 1] * m[q + 1] + m[r + 2] * m[q + 2])).toBeLessThan(1e-12);
  });
});
