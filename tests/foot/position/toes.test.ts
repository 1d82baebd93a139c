import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { beyondToes } from '@cast-to-last/foot/position/beyond-toes';
import { frontCut } from '@cast-to-last/foot/position/front-cut';
import { toeBox } from '@cast-to-last/foot/position/toe-box';
import { landmarksFor, standing } from '../../support/standing.ts';
import { icosphere } from '../../support/meshes.ts';

/** A body 260 mm long and 90 broad that is round like an egg lying down, its sole pressed flat, its front rounded over some 12 mm. */
function egg(change: (p: [number, number, number]) => [number, number, number] = (p) => p, length = 260): Mesh {
  const sphere = icosphere(1, 6);
  const positions = sphere.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const [u, v, w] = [positions[i], positions[i + 1], positions[i + 2]];
    const along = Math.sign(u) * Math.abs(u) ** 0.5;
    positions.set(change([length / 2 + (length / 2) * along, 45 * v, Math.max(0, 15 + 15 * w)]), i);
  }
  return { positions, triangles: sphere.triangles };
}

/** The egg with what lies ahead of `toes` drawn out to a lip so long and thick. */
const withLip = (length: number, thick: number, toes = 255): Mesh =>
  egg(([x, y, z]) => (x <= toes ? [x, y, z] : [toes + ((x - toes) / (260 - toes)) * length, y, 3 + (thick * z) / 30]));

const at = (mesh: Mesh) => {
  let front = 0;
  for (let i = 0; i < mesh.positions.length; i += 3) front = Math.max(front, mesh.positions[i]);
  return standing(mesh, { landmarks: landmarksFor('right', { footLength: front, toeTip: [front, 0, 10] }) });
};

describe('toeBox', () => {
  it('is the breadth near the toes as a share of the ball width', () => {
    // A plank that grows narrower: 90 mm at the ball, by 0.5 mm a millimetre ahead of it.
    const plank = egg(([x, y, z]) => [x, (y / 45) * (x < 190 ? 45 : 45 - (x - 190) / 4), z], 600);
    const cast = standing(plank, { landmarks: landmarksFor('right', { medialBall: [180, 45, 15], lateralBall: [180, -45, 15] }) });
    const found = toeBox(cast);
    const breadthAt = (x: number): number => {
      let most = 0;
      for (let i = 0; i < plank.positions.length; i += 3) if (Math.abs(plank.positions[i] - x) < 3) most = Math.max(most, plank.positions[i + 1]);
      return (2 * most) / 90;
    };
    expect(Math.abs((found?.box ?? 9) - breadthAt(0.86 * 260))).toBeLessThan(0.03);
    expect(Math.abs((found?.spread ?? 9) - breadthAt(0.93 * 260))).toBeLessThan(0.03);
    expect(found?.boxSlope).toBeLessThan(0);
    expect(found?.unsure).toBe(0);
  });

  it('says how much of it was made up, and is none where there are no toes', () => {
    const cast = at(egg());
    const unsure = Uint8Array.from({ length: cast.unsure.length }, (_, v) => +(cast.mesh.positions[3 * v + 1] > 0));
    expect(toeBox({ ...cast, unsure })?.unsure).toBeCloseTo(0.5, 1);
    expect(toeBox({ ...cast, landmarks: { ...cast.landmarks, footLength: 400 } })).toBeNull();
  });
});

describe('beyondToes', () => {
  /** The egg with a groove from above between two toes, ahead of `from`. */
  const grooved = (from: number): Mesh => egg(([x, y, z]) => [x, y, x > from ? z * (1 - 0.7 * Math.exp(-((y / 5) ** 2))) : z]);

  it('is nothing where the toes end the cast', () => {
    expect(beyondToes(at(grooved(215)))?.length).toBe(0);
  });

  it('cannot be told where no toes show', () => {
    expect(beyondToes(at(egg()))).toBeNull();
  });

  it.each([[15, 5], [25, 7], [45, 5]])('is the length of a lip of %i mm, %i mm thick', (length, thick) => {
    const found = beyondToes(at(withLip(length, thick)));
    expect(Math.abs((found?.length ?? 0) - length)).toBeLessThan(found?.uncertainty ?? 0);
    expect(found?.uncertainty).toBeLessThan(20);
  });
});

describe('frontCut', () => {
  it('is small on a round front and the whole of a flat one', () => {
    expect(frontCut(at(egg())).area).toBeLessThan(200);
    const cut = egg(([x, y, z]) => [Math.min(x, 235 + 0.15 * y), y, z]);
    const found = frontCut(at(cut));
    expect(found.area).toBeGreaterThan(1000);
    expect(Math.abs(found.middle[0] - 235)).toBeLessThan(2);
    expect(found.rounding).toBeLessThan(0.2);
    const blunt = frontCut(at(egg(([x, y, z]) => [Math.min(x, 245 - 0.002 * y * y - 0.02 * (z - 15) ** 2), y, z])));
    expect(blunt.area).toBeGreaterThan(300);
    expect(blunt.rounding).toBeGreaterThan(2);
  });

  it('takes neither the flat sole of toes that are bent up nor a flat behind the front for one', () => {
    const bent = egg(([x, y, z]) => (x < 190 ? [x, y, z] : [190 + (x - 190) * 0.7 - z * 0.7, y, (x - 190) * 0.7 + z * 0.7]));
    expect(frontCut(at(bent)).area).toBeLessThan(200);
    const stepped = withLip(20, 6, 245);
    expect(frontCut(at(stepped)).area).toBeLessThan(320);
  });
});
