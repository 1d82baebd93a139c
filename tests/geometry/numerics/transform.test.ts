import { describe, expect, it } from 'vitest';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { compose, frameTransform, identity, invertRigid, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { icosphere } from '../../support/meshes.ts';
import type { Rng } from '../../support/rng.ts';
import { rng } from '../../support/rng.ts';

function rigid(random: Rng): Transform {
  const r = random.rotation();
  const t = [0, 1, 2].map(() => random.range(-300, 300));
  return new Float64Array([r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1]);
}

const expectNear = (a: Float64Array, b: ArrayLike<number>, digits = 9): void => {
  expect(a.length).toBe(b.length);
  a.forEach((c, i) => expect(c).toBeCloseTo(b[i], digits));
};

describe('transforms', () => {
  it('a quarter turn about z and a shift by hand', () => {
    const m = new Float64Array([0, -1, 0, 10, 1, 0, 0, 20, 0, 0, 1, 30, 0, 0, 0, 1]);
    expect([...transformPositions(m, new Float64Array([1, 2, 3, 0, 0, 0]))]).toEqual([8, 21, 33, 10, 20, 30]);
  });

  it.each([1, 2, 3])('compose does the first, then the second; the inverse undoes (seed %i)', (seed) => {
    const random = rng(seed);
    const [a, b] = [rigid(random), rigid(random)];
    const p = Float64Array.from({ length: 30 }, () => random.range(-100, 100));
    expectNear(transformPositions(compose(b, a), p), transformPositions(b, transformPositions(a, p)));
    expectNear(transformPositions(invertRigid(a), transformPositions(a, p)), p);
    expectNear(compose(a, invertRigid(a)), identity(), 12);
  });

  it.each([4, 5])('a frame sends its origin to 0 and its axes to x, y, z (seed %i)', (seed) => {
    const random = rng(seed);
    const r = random.rotation();
    const axes = [0, 3, 6].map((k) => r.subarray(k, k + 3));
    const origin = [random.range(-9, 9), random.range(-9, 9), random.range(-9, 9)];
    const m = frameTransform(axes[0], axes[1], axes[2], origin);
    expectNear(transformPositions(m, Float64Array.from(origin)), [0, 0, 0]);
    axes.forEach((axis, k) => expectNear(transformPositions(m, axis.map((c, i) => c + origin[i])), identity().subarray(4 * k, 4 * k + 3)));
  });

  it('of a mesh shares the triangles and leaves the given mesh alone', () => {
    const mesh = icosphere(2, 1);
    const before = mesh.positions.slice();
    const out = transformMesh(rigid(rng(6)), mesh);
    expect(out.triangles).toBe(mesh.triangles);
    expect(mesh.positions).toEqual(before);
    expect(out.positions).not.toEqual(before);
  });
});
