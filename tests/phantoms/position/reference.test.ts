import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { soleFlatness } from './reference-flatness.js';
import { contactPlane, soleSurface } from './reference-planes.js';
import { heelSeatPitch, solePlanes } from './reference-sole.js';
import { achillesLean, shankLean } from './reference-shank.js';

const DEGREE = Math.PI / 180;

/** A grid of an oval sole, 260 × 90 mm, at the given height, that faces down; its edges turn up by a radius of 12 mm. */
function sole(height: (x: number, y: number) => number): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  const [nx, ny] = [131, 46];
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const [x, y] = [2 * i, 2 * j - 45];
      const edge = Math.hypot(Math.max(0, Math.abs(x - 130) - 118), Math.max(0, Math.abs(y) - 33));
      positions.push(x, y, height(x, y) + 12 - Math.sqrt(Math.max(0.5, 144 - edge * edge)));
    }
  }
  for (let j = 0; j + 1 < ny; j++) {
    for (let i = 0; i + 1 < nx; i++) {
      const a = j * nx + i;
      triangles.push(a, a + nx, a + 1, a + 1, a + nx, a + nx + 1);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

const marks: Landmarks = {
  footLength: 260, pternion: [0, 0, 20], toeTip: [260, 0, 12], heelCentre: [42, 0, 0], ballCentre: [176, 0, 12], medialBall: [190, 44, 12],
  lateralBall: [162, -44, 12], instep: [130, 0, 62], waist: null, crook: [95, 0, 60], heelCorner: [4, 0, 4],
};

/** Two plates that meet along the line ahead(x, y) = 0. */
const plates = (bend: number, hinge: number, roll = 0): ((x: number, y: number) => number) => (x, y) =>
  Math.max(0, (x - hinge) * Math.tan(bend * DEGREE) + (y + 35) * Math.tan(roll * DEGREE));

describe('the planes of the sole', () => {
  it('stand on a hull of which they touch the middle, and are those of least squares within 1 mm', () => {
    const plane = contactPlane(soleSurface(sole((x, y) => 0.02 * x - 0.01 * y + 3)), -Infinity, 170);
    expect(plane.slopeX).toBeCloseTo(0.02, 3);
    expect(plane.slopeY).toBeCloseTo(-0.01, 3);
    expect(plane.height).toBeGreaterThan(2.99);
    expect(plane.height).toBeLessThan(3.2);
  });

  it.each([[6, 190], [12, 190], [12, 168], [15, 212], [20, 200]])('find plates bent by %i° at x = %i', (bend, hinge) => {
    const read = solePlanes(soleSurface(sole(plates(bend, hinge))), marks, 260, hinge - 190 + 4);
    // What turns up at the edges within 1 mm of the plane tilts it a little.
    expect(Math.abs(read.bendDeg - bend)).toBeLessThan(0.6);
    expect(Math.abs(read.twistDeg)).toBeLessThan(0.2);
    expect(Math.abs((read.crease as number) - hinge)).toBeLessThan(1.5);
  });

  it('name no crease on a flat bed, and a rolled forefoot by its roll', () => {
    expect(solePlanes(soleSurface(sole(() => 0)), marks, 260, 0).crease).toBeNull();
    const rolled = solePlanes(soleSurface(sole(plates(12, 190, 6))), marks, 260, 0);
    expect(Math.abs(rolled.twistDeg - 6)).toBeLessThan(0.5);
  });

  it('leave bandage beyond the toes out', () => {
    // Ahead of x = 235 a flap hangs 4 mm deeper than the plate.
    const flap = sole((x, y) => plates(12, 190)(x, y) - (x > 235 ? 4 : 0));
    expect(Math.abs(solePlanes(soleSurface(flap), marks, 230, 0).bendDeg - 12)).toBeLessThan(0.35);
    expect(Math.abs(solePlanes(soleSurface(flap), marks, 260, 0).bendDeg - 12)).toBeGreaterThan(1);
  });

  it('take the pitch of the heel seat alone', () => {
    const lifted = sole((x) => Math.max(0, (75 - x) * Math.tan(6 * DEGREE)));
    expect(Math.abs(heelSeatPitch(soleSurface(lifted), 260) - 6)).toBeLessThan(0.6);
  });

  it('call a flat sole flat and a wavy one as wavy as it is', () => {
    const at = { toeEnd: 260, rear: { slopeX: 0, slopeY: 0, height: 0 }, front: { slopeX: 0, slopeY: 0, height: 0 } };
    expect(soleFlatness(soleSurface(sole(() => 0)), marks, at)).toBeLessThan(0.35);
    const wavy = soleFlatness(soleSurface(sole((x, y) => 2 * Math.SQRT2 * Math.sin(x / 9) * Math.cos(y / 11 + 0.5))), marks, at);
    expect(wavy).toBeGreaterThan(1.1);
    expect(wavy).toBeLessThan(2);
  });
});

/** A tube of oval level sections that leans by the given angles (to +X, to +Y) above z = 50, closed at neither end. */
function leg(forward: number, inward: number): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  const [rings, around] = [80, 90];
  for (let r = 0; r < rings; r++) {
    const z = 2 * r + 0.3;
    const up = Math.max(0, z - 50);
    for (let k = 0; k < around; k++) {
      const turn = (2 * Math.PI * k) / around;
      positions.push(50 + 45 * Math.cos(turn) + up * Math.tan(forward * DEGREE), 30 * Math.sin(turn) + up * Math.tan(inward * DEGREE), z);
    }
  }
  for (let r = 0; r + 1 < rings; r++) {
    for (let k = 0; k < around; k++) {
      const [a, b] = [r * around + k, r * around + ((k + 1) % around)];
      triangles.push(a, b, b + around, a, b + around, a + around);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('the shank', () => {
  it.each([[0, 0], [7, -5], [-16, 9]])('leans %i° forwards and %i° inwards', (forward, inward) => {
    const mesh = leg(forward, inward);
    expect(shankLean(mesh, marks, 150)).toBeCloseTo(forward, 2);
    expect(achillesLean(mesh, marks, 150)).toBeCloseTo(inward, 2);
  });

  it('is not read where too little of it stands', () => {
    expect(shankLean(leg(3, 0), marks, 60 + 4 + 3 + 9)).toBeNull();
    expect(shankLean(leg(3, 0), { ...marks, crook: null }, 150)).toBeNull();
  });
});
