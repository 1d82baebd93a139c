import { describe, expect, it } from 'vitest';
import type { PressedPlates } from '@cast-to-last/foot/position/plates';
import { pressedPlates } from '@cast-to-last/foot/position/plates';
import type { RoundedPlates } from '@cast-to-last/foot/position/rounded-plates';
import { bendSpread, hingeSpread, roundedPlates } from '@cast-to-last/foot/position/rounded-plates';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { bendBetween, creaseAhead, solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import { plateSole, standing } from '../../support/standing.ts';

const RAD = Math.PI / 180;
const BALL = 190;

/** The arch and the hollow behind the toes stand off; the sole ends round at both edges. */
const foot = (x: number, y: number): number => (x > 80 && x < 150 && y > 0 ? 12 : x > 215 && x < 225 ? 4 : 0) + 4 * Math.max(0, (Math.abs(y) - 25) / 15) ** 2;

/** Height of an arc of a circle over the edge of two plates that it touches so many mm from the hinge, mm. */
const arc = (bend: number, hinge: number, reach: number) => (x: number): number => (Math.tan(bend * RAD) / (4 * reach)) * Math.max(0, reach - Math.abs(x - hinge)) ** 2;

function read(bend: number, hinge: number, reach: number, off = foot): { trough: PressedPlates; rounded: RoundedPlates } {
  const round = arc(bend, hinge, reach);
  const cast = standing(plateSole({ bend, hinge, off: (x, y) => off(x, y) + round(x) }));
  const sole = soleVertices(cast);
  const trough = pressedPlates(cast, sole, solePlanes(cast, sole) as SolePlanes) as PressedPlates;
  return { trough, rounded: roundedPlates(cast, sole, trough) as RoundedPlates };
}

describe('roundedPlates', () => {
  it.each([[7, 186, 28], [9, 190, 24], [14, 182, 20]])('bent by %i° at %i mm show their hinge under an arc that reaches %i mm from it', (bend, hinge, reach) => {
    const { trough, rounded } = read(bend, hinge, reach);
    const wrong = Math.abs((creaseAhead(trough, [BALL, 45, 0]) as number) - (hinge - BALL));
    expect(Math.abs((creaseAhead(rounded, [BALL, 45, 0]) as number) - (hinge - BALL))).toBeLessThan(Math.min(0.4, 0.5 * wrong));
    expect(Math.abs(bendBetween(rounded) / RAD - bend)).toBeLessThan(0.1);
    expect(rounded.rounding).toBeCloseTo(reach * Math.tan(bend * RAD), 0);
  });

  it('are the plates themselves where they meet in an edge', () => {
    const { rounded } = read(12, 187, 0.01);
    expect(bendBetween(rounded) / RAD).toBeCloseTo(12, 2);
    expect(creaseAhead(rounded, [BALL, 45, 0])).toBeCloseTo(-3, 1);
    expect(rounded.rounding).toBeLessThan(0.3);
  });

  it('are none that are bent too little to meet in a hinge', () => {
    const cast = standing(plateSole({ bend: 2, hinge: 187, off: foot }));
    const sole = soleVertices(cast);
    expect(roundedPlates(cast, sole, pressedPlates(cast, sole, solePlanes(cast, sole) as SolePlanes) as PressedPlates)).toBeNull();
  });

  it('are the less sure the less surface shows them, and the hinge the less sure the less they are bent', () => {
    const whole = read(12, 187, 10).rounded;
    const heelAlone = read(12, 187, 10, (x, y) => foot(x, y) + (x > 80 && x < 205 ? 3 : 0)).rounded;
    expect(bendSpread(heelAlone)).toBeGreaterThan(1.4 * bendSpread(whole));
    expect(hingeSpread(heelAlone, 45)).toBeGreaterThan(1.5 * hingeSpread(whole, 45));
    expect(hingeSpread(read(6, 187, 10).rounded, 45)).toBeGreaterThan(1.5 * hingeSpread(whole, 45));
  });
});
