import { describe, expect, it } from 'vitest';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { hingeAhead, solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { soleSlide } from '@cast-to-last/foot/position/sole-slide';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import type { Plates } from '../../support/standing.ts';
import { landmarksFor, plateSole, standing } from '../../support/standing.ts';
import { rng } from '../../support/rng.ts';

const DEG = 180 / Math.PI;

/** As the arch and the hollow behind the toes stand off the plates: steeply, so that nothing of them lies near a plate. */
const arch = (x: number, y: number): number => (x > 80 && x < 150 && y > 0 ? 12 : x > 215 && x < 225 ? 4 : 0);

const on = (plates: Plates): StandingCast =>
  standing(plateSole(plates), { side: plates.side ?? 'right', landmarks: landmarksFor(plates.side ?? 'right') });

const read = (cast: StandingCast): SolePlanes => {
  const found = solePlanes(cast, soleVertices(cast));
  if (found === null) throw new Error('no planes');
  return found;
};

describe('solePlanes', () => {
  it.each([1, 2, 3, 4, 5, 6])('read bend, twist and hinge off two plates (seed %i)', (seed) => {
    const random = rng(seed);
    const side = random.below(2) === 0 ? 'right' : 'left';
    // A crease that runs askew by more than the margin would leave a corner of each plate to the other.
    const bend = random.range(6, 28);
    const [twist, hinge] = [random.range(-0.13, 0.13) * bend, random.range(168, 198)];
    const cast = on({ bend, twist, hinge, side, off: arch });
    const planes = read(cast);
    expect(planes.bend * DEG).toBeCloseTo(bend, 3);
    expect(planes.twist * DEG).toBeCloseTo(twist, 3);
    // The line in which the plates meet, at the breadth of the inside of the ball.
    const atBall = hinge - (45 * Math.tan(twist / DEG)) / Math.tan(bend / DEG);
    expect(hingeAhead(planes, cast.landmarks.medialBall)).toBeCloseTo(atBall - cast.landmarks.medialBall[0], 2);
  });

  it('let the inner edge up be positive on both feet', () => {
    for (const side of ['left', 'right'] as const) expect(read(on({ bend: 20, twist: 1.5, hinge: 182, side })).twist * DEG).toBeCloseTo(1.5, 4);
  });

  it('show no hinge where they hardly meet', () => {
    const flat = on({ bend: 3.5, hinge: 185 });
    expect(read(flat).bend * DEG).toBeCloseTo(3.5, 3);
    expect(hingeAhead(read(flat), flat.landmarks.medialBall)).toBeNull();
    const bent = on({ bend: 4.5, hinge: 185 });
    expect(hingeAhead(read(bent), bent.landmarks.medialBall)).toBeCloseTo(185 - 190, 2);
  });

  it('show no hinge where a twist alone lays the crease askew', () => {
    const twisted = on({ bend: 10, twist: 5, hinge: 185 });
    expect(hingeAhead(read(twisted), twisted.landmarks.medialBall)).toBeNull();
    const hardly = on({ bend: 10, twist: 2, hinge: 185 });
    expect(hingeAhead(read(hardly), hardly.landmarks.medialBall)).not.toBeNull();
  });

  it('are parted at the hinge of a foot that stood far off it', () => {
    const hinge = 226;
    for (const half of [14, 40]) {
      const cast = on({ bend: 9, hinge, off: (x, y) => (x > 80 && x < 150 && y > 0 ? 12 : x > hinge && (x < hinge + 8 || Math.abs(y) > half) ? 5 : 0) });
      // From the ball centre the front plane settles on the heads of the ball, which lie on the rear plate, and finds no bend.
      const fromBall = solePlanes(cast, soleVertices(cast), { start: 180 });
      expect((fromBall?.bend ?? NaN) * DEG).toBeCloseTo(0, 3);
      const planes = read(cast);
      expect(planes.bend * DEG).toBeCloseTo(9, 3);
      expect(hingeAhead(planes, cast.landmarks.medialBall)).toBeCloseTo(hinge - 190, 2);
    }
  });

  it('do not lean on what is not to be leaned on', () => {
    const cast = on({ bend: 15, hinge: 185, off: (x) => (x > 60 && x < 160 ? -3 : 0) });
    const unsure = Uint8Array.from({ length: cast.unsure.length }, (_, v) => +(cast.mesh.positions[3 * v] > 59 && cast.mesh.positions[3 * v] < 161));
    const planes = read({ ...cast, unsure });
    expect(planes.bend * DEG).toBeCloseTo(15, 3);
    expect(planes.rear.c).toBeCloseTo(0, 3);
  });

  it('are none without a front', () => {
    const cast = on({ bend: 15, hinge: 185 });
    expect(solePlanes(cast, soleVertices(cast).filter((v) => cast.mesh.positions[3 * v] < 180))).toBeNull();
  });
});

describe('soleSlide', () => {
  it('is nothing on true plates, and much where the sole is round', () => {
    const plain = on({ bend: 15, hinge: 185, off: arch });
    const ofPlates = soleSlide(plain, soleVertices(plain), read(plain), plain.landmarks.medialBall);
    expect(ofPlates.bend * DEG).toBeLessThan(0.02);
    expect(ofPlates.twist * DEG).toBeLessThan(0.02);
    expect(ofPlates.hinge).toBeLessThan(0.3);
    const round = on({ bend: 15, hinge: 185, off: (x, y) => 0.002 * ((x - 40) ** 2 / 9 + (x > 150 ? (x - 215) ** 2 : 0) + y * y) });
    const ofRound = soleSlide(round, soleVertices(round), read(round), round.landmarks.medialBall);
    expect(ofRound.bend * DEG).toBeGreaterThan(0.25);
  });
});
