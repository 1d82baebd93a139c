import { describe, expect, it } from 'vitest';
import { capLevel } from '@cast-to-last/foot/position/cap-level';
import { madeUpAreas } from '@cast-to-last/foot/position/made-up-areas';
import { regionAt } from '@cast-to-last/foot/position/regions';
import { sureContact } from '@cast-to-last/foot/position/sure-contact';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { closedCylinder } from '../../support/meshes.ts';
import { landmarksFor, plateSole, soleSheet, standing } from '../../support/standing.ts';

describe('regionAt', () => {
  it.each([
    ['toes', 240, 0, 10, 0.5],
    ['ball', 185, 0, 0, -1],
    ['sole', 120, -20, 2, -1],
    ['arch', 110, 30, 15, -0.7],
    ['heel', 40, 0, 0, -1],
    ['heel', 10, 10, 30, 0],
    ['ankle', 60, 30, 100, 0],
    ['instep', 130, 0, 60, 0.9],
    ['sides', 130, -35, 20, 0],
  ] as const)('is %s at x %i, y %i, z %i', (region, x, y, z, up) => {
    expect(regionAt(x, y, z, up, 'right', landmarksFor('right'))).toBe(region);
    expect(regionAt(x, -y, z, up, 'left', landmarksFor('left'))).toBe(region);
  });
});

describe('madeUpAreas', () => {
  it('adds up what was made up, each piece in its region', () => {
    const mesh = soleSheet(() => 0);
    const filled = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => {
      const [x, y] = [mesh.positions[3 * v], mesh.positions[3 * v + 1]];
      return +((x <= 20 && y >= -20 && y <= 20) || x >= 240);
    });
    const { surface, regions } = madeUpAreas(mesh, filled, 'right', landmarksFor('right'));
    expect(surface).toBeCloseTo(260 * 80, 6);
    const of = (name: string) => regions.find(({ region }) => region === name);
    // Triangles at the border of a patch count with two of their corners: half a cell of 2 mm all round.
    expect(Math.abs((of('heel')?.area ?? 0) - 21 * 42)).toBeLessThan(70);
    expect(Math.abs((of('toes')?.area ?? 0) - 21 * 80)).toBeLessThan(90);
    expect(of('toes')?.middle?.[0]).toBeGreaterThan(248);
    expect(of('ankle')).toEqual({ region: 'ankle', area: 0, middle: null });
    expect(regions.reduce((sum, { area }) => sum + area, 0)).toBeLessThan(surfaceArea(mesh));
  });
});

describe('sureContact', () => {
  it('is the share of a seat that was scanned', () => {
    const cast = standing(plateSole({ bend: 10, hinge: 180 }));
    const rest = { a: 0, b: 0, c: 0 };
    expect(sureContact(cast, rest, 0, 70)).toBe(1);
    const unsure = Uint8Array.from({ length: cast.unsure.length }, (_, v) => +(cast.mesh.positions[3 * v] < 35));
    expect(sureContact({ ...cast, unsure }, rest, 0, 70)).toBeCloseTo(0.5, 1);
    expect(sureContact({ ...cast, unsure }, rest, 71, 170)).toBe(1);
  });
});

describe('capLevel', () => {
  it('is just under a flat top', () => {
    const mesh = closedCylinder(40, 150, 60, 60);
    expect(capLevel(standing(mesh))).toBeCloseTo(148, 6);
  });
});
