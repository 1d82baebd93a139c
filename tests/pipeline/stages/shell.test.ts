import { describe, expect, it } from 'vitest';
import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { ScanKind, ShelledCast } from '@cast-to-last/pipeline/records';
import { knownWall } from '@cast-to-last/pipeline/shell/wall';
import { alignCast } from '@cast-to-last/pipeline/stages/align';
import { shellCast } from '@cast-to-last/pipeline/stages/shell';
import { mirrorMesh } from '../../phantoms/surface/mirror-mesh.ts';
import { withNoise } from '../../support/bodies.ts';
import { bareFoot, shellOf } from '../../support/hand-shell.ts';
import { flipped, merged } from '../../support/meshes.ts';
import { expectSound, repair } from '../../support/repaired.ts';

const SEED = 5;
const WALL = 4;
const foot = bareFoot(SEED).truth.clean;
const shell = shellOf(foot, WALL);

const shelled = (mesh: Mesh, kind: ScanKind, wallMm?: number): Promise<ShelledCast> => shellCast(repair(mesh, kind), kind, kind === 'positive' ? null : { wallMm, plyMm: 0.45 });

/** Greatest and 99th percentile distance of a mesh's vertices from the foot. */
function off(mesh: Mesh): { most: number; nearly: number } {
  const tree = surfaceTree(foot);
  const found = newNearestPoint();
  const p = mesh.positions;
  const all = Array.from({ length: p.length / 3 }, (_, v) => {
    nearestOnSurface(tree, p[3 * v], p[3 * v + 1], p[3 * v + 2], found);
    return found.distance;
  }).sort((a, b) => a - b);
  return { most: all[all.length - 1], nearly: all[Math.floor(0.99 * all.length)] };
}

describe('knownWall', () => {
  const plaster = { wallMm: 5, layers: 12 };
  it('believes what is given first, then the order\'s measure, then its layers', () => {
    expect(knownWall({ wallMm: 3, plaster, plyMm: 0.5 })).toMatchObject({ mm: 3, how: 'given' });
    expect(knownWall({ plaster, plyMm: 0.5 })).toMatchObject({ mm: 5, how: 'order' });
    expect(knownWall({ plaster: { layers: 12 }, plyMm: 0.5 })).toEqual({ mm: 6, how: 'layers', uncertainty: 2 });
  });

  it('is less sure of layers than of a measure', () => {
    const measured = knownWall({ wallMm: 6, plyMm: 0.5 });
    expect(measured.uncertainty).toBeGreaterThan(0.2);
    expect(measured.uncertainty).toBeLessThan(1);
  });

  it('refuses to guess, and says what to give', () => {
    const refused = (() => {
      try {
        return knownWall({ plaster: {}, plyMm: 0.5 });
      } catch (error) {
        return error;
      }
    })();
    expect(refused).toBeInstanceOf(CastError);
    expect((refused as CastError).code).toBe('wall-unknown');
    expect((refused as CastError).remedy).toContain('--wall');
  });
});

describe(`shell of the bare foot of seed ${SEED}`, () => {
  it('passes a positive through', async () => {
    const repaired = repair(foot);
    const cast = await shellCast(repaired, 'positive', null);
    expect(cast.mesh).toBe(repaired.mesh);
    expect(cast).toMatchObject({ wall: null, offsetUncertainty: 0, thickness: null });
  });

  it('moves a noisy outside inward by the wall', async () => {
    const cast = await shelled(withNoise(shell.outer, 0.03, 71), 'outside', WALL);
    expectSound(cast);
    const { most, nearly } = off(cast.mesh);
    expect(nearly).toBeLessThan(0.15);
    expect(most).toBeLessThan(0.4);
    expect(Math.abs(surfaceArea(cast.mesh) / surfaceArea(foot) - 1)).toBeLessThan(0.005);
    expect(cast.offsetUncertainty).toBe(cast.wall?.uncertainty);
  });

  it('leaves the flat edge at the top out', async () => {
    const cast = await shelled(shell.outerWithRim, 'outside', WALL);
    expectSound(cast);
    expect(cast.opening).not.toBeNull();
    expect(off(cast.mesh).nearly).toBeLessThan(0.2);
    expect(cast.repairs.holesFilled).toBe(0);
    expect(surfaceArea(cast.mesh) / surfaceArea(foot)).toBeGreaterThan(0.98);
  });

  it('turns an inside scan, whichever way its triangles face', async () => {
    for (const mesh of [flipped(foot), foot]) {
      const cast = await shelled(mesh, 'inside');
      expectSound(cast);
      expect(off(cast.mesh).most).toBeLessThan(1e-9);
      expect(cast).toMatchObject({ wall: null, offsetUncertainty: 0 });
      expect(alignCast(cast, 'right', { kind: 'inside' }).side).toBe('right');
    }
  });

  it('refuses a mirrored inside in words of its own, and names the mirror where the triangles betray it', async () => {
    const message = async (mesh: Mesh): Promise<string> => {
      const cast = await shelled(mesh, 'inside');
      try {
        alignCast(cast, 'right', { kind: 'inside' });
        return '';
      } catch (error) {
        expect((error as CastError).code).toBe('side-contradiction');
        return (error as Error).message;
      }
    };
    // Mirrored coordinates in the old order of corners: what faced into the hollow faces out of it.
    const facingOut = await message(mirrorMesh(foot));
    expect(facingOut).toContain('inside of the shell');
    expect(facingOut).toContain('most likely mirrored');
    const facingIn = await message(flipped(mirrorMesh(foot)));
    expect(facingIn).toContain('without mirroring');
    expect(facingIn).not.toContain('most likely mirrored');
  });

  const twoSided = {
    'joined over the rim': shell.closed,
    'joined over the rim, all turned': flipped(shell.closed),
    'as two pieces': merged(flipped(foot), shell.outer),
    'as two pieces, the outer one first': merged(shell.outer, foot),
  };
  it.each([
    ['joined over the rim', 'inside'],
    ['joined over the rim', 'outside'],
    ['joined over the rim, all turned', 'inside'],
    ['as two pieces', 'inside'],
    ['as two pieces, the outer one first', 'outside'],
  ] as const)('takes the inner of two sides %s, booked in as %s', async (how, kind) => {
    const mesh = twoSided[how];
    const cast = await shelled(mesh, kind);
    expectSound(cast);
    // Of the edge at the top a little of the inner half may be left.
    expect(off(cast.mesh).nearly).toBeLessThan(0.01);
    expect(off(cast.mesh).most).toBeLessThan(WALL / 2);
    expect(surfaceArea(cast.mesh) / surfaceArea(foot)).toBeGreaterThan(0.98);
    expect(cast.repairs.holesFilled).toBe(0);
    expect(cast.wall?.how).toBe('measured');
    expect(cast.wall?.mm).toBeCloseTo(WALL, 1);
    expect(cast.offsetUncertainty).toBe(0);
    const known = (cast.thickness ?? new Float64Array(0)).filter((t) => !Number.isNaN(t));
    expect(known.length).toBeGreaterThan(0.9 * (cast.mesh.positions.length / 3));
    expect(cast.warnings.join()).toContain('both sides');
  });

  it('maps a wall that is thinner under the heel', async () => {
    const p = foot.positions;
    const uneven = shellOf(foot, (v) => (p[3 * v] < 60 && p[3 * v + 2] < 15 ? 2 : 5));
    const cast = await shelled(uneven.closed, 'inside');
    const thickness = cast.thickness as Float64Array;
    let [thin, thick] = [0, 0];
    for (let v = 0; v < thickness.length; v++) {
      const [x, z] = [cast.mesh.positions[3 * v], cast.mesh.positions[3 * v + 2]];
      if (x < 50 && z < 5 && Math.abs(thickness[v] - 2) < 0.2) thin++;
      if (x > 70 && Math.abs(thickness[v] - 5) < 0.2) thick++;
    }
    expect(thin).toBeGreaterThan(100);
    expect(thick).toBeGreaterThan(0.5 * thickness.length);
  });

  it('refuses a wall that leaves no foot', async () => {
    await expect(shelled(shell.outer, 'outside', 24)).rejects.toMatchObject({ code: 'wall-too-thick' });
  });
});
