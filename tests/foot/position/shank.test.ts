import { describe, expect, it } from 'vitest';
import { rearLine } from '@cast-to-last/foot/position/rear-view';
import { shankSections } from '@cast-to-last/foot/position/shank-sections';
import { sideLine } from '@cast-to-last/foot/position/side-view';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import type { Side } from '@cast-to-last/foot/side';
import { leaningPipe } from '../../support/leaning-pipe.ts';
import { landmarksFor, standing } from '../../support/standing.ts';
import { rng } from '../../support/rng.ts';

const DEG = 180 / Math.PI;

/** A pipe of oval section, open above and below, that leans: forward, and to the inner side, degrees. */
function shank(forward: number, inward: number, side: Side = 'right', height = 180): StandingCast {
  const mesh = leaningPipe(forward, inward, side, height, 120);
  return level(standing(mesh, { side, landmarks: landmarksFor(side, { crook: [100, 0, 80] }) }));
}

/** With a sole to stand on, so that the rear view has a vertical: three feet far below that touch nothing else. */
function level(cast: StandingCast): StandingCast {
  const p = cast.mesh.positions;
  const feet = [-200, -300, -60, 500, -300, -60, 150, 400, -60];
  const positions = new Float64Array([...p, ...feet]);
  const v = p.length / 3;
  const mesh = { positions, triangles: new Uint32Array([...cast.mesh.triangles, v, v + 2, v + 1]) };
  return { ...standing(mesh, { side: cast.side, landmarks: cast.landmarks }), wholeTo: cast.wholeTo };
}

describe('the shank', () => {
  it.each([1, 2, 3, 4])('leans as it was drawn, in both views and on both sides (seed %i)', (seed) => {
    const random = rng(seed);
    const [forward, inward] = [random.range(-15, 20), random.range(-12, 12)];
    const cast = shank(forward, inward, random.below(2) === 0 ? 'left' : 'right');
    expect((sideLine(cast)?.angle ?? NaN) * DEG).toBeCloseTo(forward, 3);
    expect((rearLine(cast)?.angle ?? NaN) * DEG).toBeCloseTo(inward, 3);
  });

  it('is cut every 2 mm from just above the crook to 3 mm under the edge', () => {
    const heights = shankSections(shank(0, 0), 84).map((s) => s.z);
    expect(heights[0]).toBe(84);
    expect(heights[1] - heights[0]).toBe(2);
    expect(heights.at(-1)).toBeLessThanOrEqual(177);
    expect(heights.at(-1)).toBeGreaterThan(174);
  });

  it('is not read from less than 12 mm of height, or without the crook', () => {
    const cast = shank(5, 5);
    expect(sideLine({ ...cast, wholeTo: 84 + 3 + 11 })).toBeNull();
    expect(sideLine({ ...cast, wholeTo: 84 + 3 + 13 })?.span).toBe(12);
    expect(sideLine({ ...cast, landmarks: landmarksFor('right') })).toBeNull();
    expect(rearLine({ ...cast, wholeTo: 0.22 * 260 + 14 })).toBeNull();
  });

  it('leaves out sections whose outline was made up, and chords that end on what was', () => {
    const cast = shank(6, 4);
    const p = cast.mesh.positions.slice();
    const unsure = new Uint8Array(p.length / 3);
    for (let v = 0; v < unsure.length; v++) {
      // A false bulge on the outer side from 100 to 140 mm up, a third of the way round.
      if (p[3 * v + 2] < 100 || p[3 * v + 2] > 140 || p[3 * v + 1] > -5) continue;
      p[3 * v + 1] -= 15;
      p[3 * v] += 10;
      unsure[v] = 1;
    }
    const mesh = { positions: p, triangles: cast.mesh.triangles };
    const bulged = { ...standing(mesh, { landmarks: cast.landmarks }), wholeTo: cast.wholeTo };
    expect(Math.abs((sideLine(bulged)?.angle ?? 0) * DEG - 6)).toBeGreaterThan(0.3);
    expect((sideLine({ ...bulged, unsure })?.angle ?? NaN) * DEG).toBeCloseTo(6, 1);
    expect((rearLine({ ...bulged, unsure })?.angle ?? NaN) * DEG).toBeCloseTo(4, 1);
  });
});
