import { describe, expect, it } from 'vitest';
import { dropSpikes } from '@cast-to-last/geometry/repair/drop-spikes';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { icosphere, openCylinder } from '../../support/meshes.ts';

describe('dropSpikes', () => {
  it('drops a triangle with a corner torn away across the mesh', () => {
    const ball = icosphere(40, 4);
    const triangles = ball.triangles.slice();
    triangles[3 * 700] = triangles[3 * 4400];
    const torn = { positions: ball.positions, triangles };
    const clean = dropSpikes(torn, twins(torn));
    expect(clean.dropped).toBe(1);
    expect(Array.from(clean.triangles)).toEqual(Array.from(ball.triangles).filter((_, h) => Math.floor(h / 3) !== 700));
    expect(clean.twin).toEqual(twins({ positions: ball.positions, triangles: clean.triangles }));
  });

  it('leaves rims and thin triangles inside a surface alone', () => {
    for (const mesh of [icosphere(10, 2), openCylinder(20, 400, 60, 4)]) {
      const same = dropSpikes(mesh, twins(mesh));
      expect(same.dropped).toBe(0);
      expect(same.triangles).toBe(mesh.triangles);
    }
  });
});
