import { describe, expect, it } from 'vitest';
import { CellNumbers, surfacePatches } from '@cast-to-last/geometry/mesh/surface-patches';
import { noisy } from '../../support/disturb.ts';
import { gridPlane, icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

describe('numbers of grid cells', () => {
  it.each([61, 62])('are those of a map, in the order of meeting (seed %i)', (seed) => {
    const random = rng(seed);
    const known = new Map<string, number>();
    const numbers = new CellNumbers(2000);
    for (let n = 0; n < 2000; n++) {
      const [i, j, k] = [0, 1, 2].map(() => random.below(17) - 8 + (random.next() < 0.1 ? 1e6 : 0));
      const key = `${i} ${j} ${k}`;
      expect(numbers.find(i, j, k)).toBe(known.get(key) ?? -1);
      if (!known.has(key)) known.set(key, known.size);
      expect(numbers.numberOf(i, j, k)).toBe(known.get(key));
    }
    expect(numbers.count).toBe(known.size);
    expect([...known.keys()].join('|')).toBe(Array.from({ length: known.size }, (_, v) => [...numbers.cells().subarray(3 * v, 3 * v + 3)].join(' ')).join('|'));
  });
});

describe('patches of a surface', () => {
  it('hold every triangle once, in the cell of its middle', () => {
    const mesh = icosphere(20, 4);
    const patches = surfacePatches(mesh, 5);
    expect(new Set(patches.patchOf).size).toBe(patches.count);
    for (let f = 0; f < patches.patchOf.length; f += 7) {
      const middle = [0, 1, 2].map((k) => [0, 1, 2].reduce((s, c) => s + mesh.positions[3 * mesh.triangles[3 * f + c] + k] / 3, 0));
      const centre = patches.centres.subarray(3 * patches.patchOf[f], 3 * patches.patchOf[f] + 3);
      expect(Math.max(...middle.map((c, k) => Math.abs(c - centre[k])))).toBeLessThan(5);
      expect(patches.at(...([...patches.cells.subarray(3 * patches.patchOf[f], 3 * patches.patchOf[f] + 3)] as [number, number, number]))).toBe(patches.patchOf[f]);
    }
  });

  it('have the normal and area of a plane under noise that turns single triangles every way (seed 63)', () => {
    const flat = gridPlane(200, 200, 40);
    const rough = noisy(flat, 0.15, rng(63));
    const patches = surfacePatches(rough, 3);
    const sizes = new Float64Array(patches.count);
    for (const p of patches.patchOf) sizes[p]++;
    let seen = 0;
    for (let p = 0; p < patches.count; p++) {
      if (sizes[p] < 300) continue;
      seen++;
      expect(Math.abs(patches.normals[3 * p + 2])).toBeGreaterThan(0.99);
      expect(patches.areas[p] / (sizes[p] * 0.02)).toBeGreaterThan(0.8);
      expect(patches.areas[p] / (sizes[p] * 0.02)).toBeLessThan(1.2);
    }
    expect(seen).toBeGreaterThan(3);
  });
});
