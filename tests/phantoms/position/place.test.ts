import { describe, expect, it } from 'vitest';
import { boundaryLoops, handles } from '../surface/halfedges.js';
import { makePhantom, type Phantom } from '../make-phantom.js';
import type { Family, PhantomOptions } from '../phantom-options.js';
import type { Position } from './position.js';
import { positionTruth } from './position-truth.js';
import { soleSurface } from './reference-planes.js';
import { heelSeatPitch } from './reference-sole.js';

const plain: PhantomOptions = {
  triangles: 7000, denseTriangles: 7000, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, noise: 0, weave: 0, top: 'cut', rise: 80,
  oddities: [], side: 'right', posed: false, unit: 'mm',
};
const upright: Position = { bendDeg: 12, hingeMm: 0, leanInFrameDeg: -4, rearViewDeg: 0 };
const make = (seed: number, family: Family, position: Partial<Position> = {}, options: PhantomOptions = {}): Phantom =>
  makePhantom(seed, { ...plain, family, position: { ...upright, ...position }, ...options });

const SOUND: readonly (readonly [Family, number])[] = [['bones', 51], ['sections', 52], ['blunt', 53]];
const FOLD: Position['fold'] = { lengthMm: 30, thicknessMm: 12, where: 'over', breadth: 0.7 };
const made = new Map<Family, Phantom>();
/** The sound cast of a family. */
function sound(family: Family): Phantom {
  const seed = SOUND.find(([f]) => f === family)?.[1] as number;
  const phantom = made.get(family) ?? make(seed, family);
  made.set(family, phantom);
  return phantom;
}

describe('a foot on a hinged bed', () => {
  it.each(SOUND)('%s, seed %i: stands flat on both plates, whole, within normal limits', (family) => {
    const { truth } = sound(family);
    const read = positionTruth(truth);
    expect(handles(truth.clean)).toBe(0);
    expect(boundaryLoops(truth.clean)).toBe(1);
    expect(Math.abs(read.contact.bendDeg - 12)).toBeLessThan(1.6);
    expect(Math.abs(read.twistDeg)).toBeLessThan(1.6);
    expect(Math.abs(read.heelOnPlateDeg)).toBeLessThan(1.2);
    expect(Math.abs(read.hingeMm as number)).toBeLessThan(3.5);
    expect(Math.abs(read.contact.hingeMm as number)).toBeLessThan(7);
    expect(read.flatnessMm).toBeLessThan(1.6);
    expect(Math.abs((read.leanInFrameDeg as number) + 4)).toBeLessThan(1);
    expect(Math.abs(read.rearViewDeg as number)).toBeLessThan(1);
    // Pressed flat: of what faces down behind the hinge and near the plate, much lies on it.
    const p = truth.clean.positions;
    let [near, on] = [0, 0];
    for (let i = 0; i < p.length; i += 3) {
      if (p[i] > 0.6 * truth.landmarks.footLength || p[i + 2] > 3) continue;
      near++;
      if (p[i + 2] < 0.15) on++;
    }
    expect(on / near).toBeGreaterThan(0.15);
  });

  it('stands on plates that are hardly bent, upwards or downwards, as they are (seed 57)', () => {
    const [down, up] = [-0.9, 0.9].map((bendDeg) => positionTruth(make(57, 'blunt', { bendDeg }).truth).contact.bendDeg);
    expect(Math.abs(up - down - 1.8)).toBeLessThan(0.4);
  });

  it('reads what was planted: bend, hinge, leans (seed 54)', () => {
    const read = positionTruth(make(54, 'bones', { bendDeg: 17, hingeMm: 18, leanInFrameDeg: 6, rearViewDeg: -9, exact: true }).truth);
    expect(Math.abs(read.contact.bendDeg - 17)).toBeLessThan(0.8);
    expect(Math.abs((read.hingeMm as number) - 18)).toBeLessThan(2);
    expect(Math.abs((read.leanInFrameDeg as number) - 6)).toBeLessThan(1);
    expect(Math.abs((read.rearViewDeg as number) + 9)).toBeLessThan(1);
  });

  it.each([7, -8])('has its heel tilted off the rear plate as asked, by %i°, and leans against the plate as asked (seed 55)', (heelOnPlateDeg) => {
    const { truth } = make(55, 'sections', { heelOnPlateDeg });
    const read = positionTruth(truth);
    const plate = truth.placed?.rearPlate.pitchDeg as number;
    // The frame rests on the heel's edge and the ball: what the seat's own plane reads there lacks the plate's slope.
    expect(Math.abs(heelSeatPitch(soleSurface(truth.clean), truth.landmarks.footLength) + plate - heelOnPlateDeg)).toBeLessThan(1);
    if (heelOnPlateDeg < 0) expect(plate).toBeLessThan(-1.5);
    expect(read.heelOnPlateDeg).toBe(heelOnPlateDeg);
    expect(Math.abs((read.leanInFrameDeg as number) + 4)).toBeLessThan(1);
    expect(Math.abs(read.rearViewDeg as number)).toBeLessThan(1);
  });

  it('reads what was planted: forefoot rolled, and the same on a left foot (seed 56)', () => {
    const right = make(56, 'blunt', { twistDeg: -8 });
    const left = make(56, 'blunt', { twistDeg: -8 }, { side: 'left' });
    expect(Math.abs(positionTruth(right.truth).twistDeg + 8)).toBeLessThan(1);
    expect(positionTruth(left.truth).twistDeg).toBeCloseTo(positionTruth(right.truth).twistDeg, 9);
    expect(left.truth.landmarks.medialBall[1]).toBeLessThan(0);
  });

  it('ends where the toes end, whatever bandage lies before them, and is the same for the same seed (seed 52)', () => {
    const bare = positionTruth(sound('sections').truth);
    const [first, again] = [make(52, 'sections', { fold: FOLD }), make(52, 'sections', { fold: FOLD })];
    const folded = positionTruth(first.truth);
    expect(Math.abs(bare.beyondToesMm)).toBeLessThan(0.6);
    expect(Math.abs(folded.beyondToesMm - 30)).toBeLessThan(5);
    expect(Math.abs(folded.footLengthMm - bare.footLengthMm)).toBeLessThan(0.7);
    expect(again.scan.positions).toEqual(first.scan.positions);
    expect(again.truth.placed).toEqual(first.truth.placed);
  });

  it('narrows the toes and bends the sole out of flat as asked (seed 51)', () => {
    const before = positionTruth(sound('bones').truth);
    const after = positionTruth(make(51, 'bones', { toeBoxShare: 0.7, sole: { kind: 'uneven', heightMm: 3 } }).truth);
    expect(after.toeBox / before.toeBox).toBeGreaterThan(0.66);
    expect(after.toeBox / before.toeBox).toBeLessThan(0.76);
    expect(after.flatnessMm).toBeGreaterThan(before.flatnessMm + 1);
  });

  it('squeezes the toes to the breadth asked for (seed 52)', () => {
    expect(positionTruth(sound('sections').truth).toeBox).toBeGreaterThan(0.5);
    expect(Math.abs(positionTruth(make(52, 'sections', { toeBox: 0.41 }).truth).toeBox - 0.41)).toBeLessThan(0.02);
  });

  it('lacks what shall be missing, and the clean surface stays whole (seed 51)', () => {
    const open = make(51, 'bones', { missing: { kind: 'toes', depthMm: 20 } });
    const patch = make(51, 'bones', { missing: { kind: 'patch', place: 'instep', share: 0.1 } });
    expect(open.truth.clean.positions).toEqual(sound('bones').truth.clean.positions);
    const front = (p: Float64Array): number => p.reduce((most, c, i) => (i % 3 === 0 && c > most ? c : most), 0);
    const short = front(open.truth.clean.positions) - front(open.scan.positions);
    expect(short).toBeGreaterThan(11);
    expect(short).toBeLessThan(29);
    const gone = 1 - patch.scan.triangles.length / patch.truth.clean.triangles.length;
    expect(gone).toBeGreaterThan(0.07);
    expect(gone).toBeLessThan(0.13);
  });
});
