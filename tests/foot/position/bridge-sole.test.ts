import { describe, expect, it } from 'vitest';
import { bridgeSole } from '@cast-to-last/foot/position/bridge-sole';
import type { PressedPlates } from '@cast-to-last/foot/position/plates';
import { heightOverPlates, pressedPlates } from '@cast-to-last/foot/position/plates';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { bendBetween, creaseAhead, solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import { plateSole, standing } from '../../support/standing.ts';

const RAD = Math.PI / 180;
const BEND = 12;
const HINGE = 185;

/** The arch stands off; a rounding 25 mm broad along both edges rises to 4 mm. */
const foot = (x: number, y: number): number => (x > 80 && x < 150 && y > 0 ? 12 : 0) + 4 * Math.max(0, (Math.abs(y) - 25) / 15) ** 2;

const on = (bump: (x: number, y: number) => number): StandingCast => standing(plateSole({ bend: BEND, hinge: HINGE, off: (x, y) => foot(x, y) + bump(x, y) }));

const plateAt = (x: number): number => Math.max(0, Math.tan(BEND * RAD) * (x - HINGE));

function platesOf(cast: StandingCast) {
  const sole = soleVertices(cast);
  const planes = solePlanes(cast, sole);
  return planes === null ? null : pressedPlates(cast, sole, planes);
}

const inPatch = (x: number, y: number, [cx, cy, r]: readonly number[]): boolean => Math.hypot(x - cx, y - cy) < r;

/** The greatest departure of the bridged sole from the true one within a patch, mm. */
function errorIn(cast: StandingCast, patch: readonly number[]): { before: number; after: number; lowest: number; unsure: number } {
  const p = cast.mesh.positions;
  const marked = { ...cast, unsure: Uint8Array.from(cast.areas, (_, v) => +inPatch(p[3 * v], p[3 * v + 1], patch)) };
  const sole = soleVertices(marked);
  const planes = solePlanes(marked, sole);
  const plates = planes === null ? null : pressedPlates(marked, sole, planes);
  if (plates === null) throw new Error('no plates');
  const bridged = bridgeSole(marked, sole, plates);
  let [before, after, lowest, unsure] = [0, 0, 0, 0];
  for (let v = 0; v < cast.areas.length; v++) {
    const [x, y] = [p[3 * v], p[3 * v + 1]];
    if (!inPatch(x, y, patch)) {
      if (!inPatch(x, y, [patch[0], patch[1], patch[2] + 5])) expect(bridged.mesh.positions[3 * v + 2]).toBe(p[3 * v + 2]);
      continue;
    }
    const truth = plateAt(x) + foot(x, y);
    before = Math.max(before, Math.abs(p[3 * v + 2] - truth));
    after = Math.max(after, Math.abs(bridged.mesh.positions[3 * v + 2] - truth));
    lowest = Math.min(lowest, bridged.mesh.positions[3 * v + 2] - plateAt(x));
    unsure += bridged.unsure[v];
  }
  return { before, after, lowest, unsure };
}

describe('pressedPlates', () => {
  it('are the plates, whatever bumps stand out of them and however the edges are rounded', () => {
    const bumps = (x: number, y: number): number => (inPatch(x, y, [40, 10, 8]) || inPatch(x, y, [60, -20, 6]) || inPatch(x, y, [230, 5, 7]) ? -1 : 0);
    const plates = platesOf(on(bumps));
    expect(Math.atan(plates?.rear.a ?? NaN) / RAD).toBeCloseTo(0, 2);
    expect(Math.atan(plates?.rear.b ?? NaN) / RAD).toBeCloseTo(0, 1);
    expect(plates?.rear.c).toBeCloseTo(0, 1);
    expect(Math.atan(plates?.front.a ?? NaN) / RAD).toBeCloseTo(BEND, 1);
    expect(plates === null ? NaN : heightOverPlates(plates, 250, 0, plateAt(250))).toBeCloseTo(0, 1);
  });

  it.each([[6, 178], [9, 195], [16, 185]])('show a bend of %i° and its hinge at %i mm under pads that rise off them all round', (bend, hinge) => {
    const pads = [[35, 0, 26], [160, 12, 24], [158, -22, 16], [206, 16, 17], [212, -14, 17], [246, 4, 14]] as const;
    // Flat in the middle of a pad, 0.8 mm up at its rim and up to 6 mm between the pads, as flesh that was not pressed stands.
    const off = (x: number, y: number): number => Math.min(6, ...pads.map(([cx, cy, r]) => 0.8 * Math.max(0, Math.hypot(x - cx, y - cy) / r - 0.5) ** 2 * 4));
    const cast = standing(plateSole({ bend, hinge, off }));
    const sole = soleVertices(cast);
    const planes = solePlanes(cast, sole) as SolePlanes;
    const plates = pressedPlates(cast, sole, planes) as PressedPlates;
    expect(bendBetween(plates) / RAD).toBeCloseTo(bend, 0);
    expect(Math.abs((creaseAhead(plates, cast.landmarks.medialBall) as number) - (hinge - cast.landmarks.medialBall[0]))).toBeLessThan(2);
  });

  it('show on a flat floor, too, which has no hinge', () => {
    const plates = platesOf(standing(plateSole({ bend: 0, hinge: HINGE, off: foot }))) as PressedPlates;
    expect(bendBetween(plates) / RAD).toBeCloseTo(0, 1);
    expect(creaseAhead(plates, [190, 45, 0])).toBeNull();
  });

  it('are none under a round sole', () => {
    expect(platesOf(standing(plateSole({ bend: BEND, hinge: HINGE, off: (x, y) => 0.01 * (y * y + (x > 150 ? (x - 215) ** 2 : (x - 60) ** 2)) })))).toBeNull();
  });
});

describe('bridgeSole', () => {
  it('brings a patch within pressed surface to the plate, and lets it be leaned on', () => {
    for (const height of [-0.8, 1.2]) {
      const patch = [40, 0, 14];
      const { before, after, unsure } = errorIn(on((x, y) => (inPatch(x, y, patch) ? height : 0)), patch);
      expect(before).toBeGreaterThan(0.7);
      expect(after).toBeLessThan(0.05);
      expect(unsure).toBe(0);
    }
  });

  it('leaves nothing of a patch beyond the plate at its edge', () => {
    const patch = [40, 24, 12];
    const { before, lowest } = errorIn(on((x, y) => (inPatch(x, y, patch) ? -0.8 : 0)), patch);
    expect(before).toBeGreaterThan(0.7);
    expect(lowest).toBeGreaterThan(-0.01);
  });

  it('leaves a patch as it is where no plate lies round it', () => {
    const patch = [115, 20, 12];
    const { before, after } = errorIn(on((x, y) => (inPatch(x, y, patch) ? -2 : 0)), patch);
    expect(after).toBe(before);
  });
});
