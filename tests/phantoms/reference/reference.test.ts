import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { frameTransform, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { projectToField } from '../surface/densify.js';
import type { Field } from '../surface/implicit.js';
import { meshField } from '../surface/mesh-field.js';
import { randomFrom } from '../random.js';
import { cut, inPlane, loopAt } from './cut.js';
import { frameBasis, referenceFrame } from './frame.js';
import { smallestTilted, tapeWithY } from './measures.js';
import { outermost } from './outermost.js';
import { restPlane } from './rest-plane.js';
import { tapeLength } from './tape.js';

/** Independent of the program: everything here is checked against closed forms. */

type Ball = { readonly at: readonly [number, number, number]; readonly r: number };

const meshOf = (field: Field, box: number[], cell: number): Mesh => {
  const mesh = meshField(field, box, cell);
  projectToField(field, mesh.positions, 3);
  return mesh;
};

function ballsMesh(balls: readonly Ball[], cell: number): Mesh {
  const parts = balls.map(({ at, r }) => meshOf((x, y, z) => Math.hypot(x - at[0], y - at[1], z - at[2]) - r, [at[0] - r - 5, at[1] - r - 5, at[2] - r - 5, at[0] + r + 5, at[1] + r + 5, at[2] + r + 5], cell));
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const part of parts) {
    const first = positions.length / 3;
    for (const c of part.positions) positions.push(c);
    for (const v of part.triangles) triangles.push(v + first);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('tape', () => {
  it('is the perimeter of the hull of a rectangle, whatever lies inside', () => {
    expect(tapeLength(Float64Array.from([0, 0, 30, 0, 30, 40, 0, 40, 15, 20, 10, 39]))).toBeCloseTo(140, 3);
  });

  it('bridges a hollow', () => {
    expect(tapeLength(Float64Array.from([0, 0, 10, 0, 10, 10, 5, 2, 0, 10]))).toBeCloseTo(40, 3);
  });

  it('is 2πr round a circle of 720 points, less the chords', () => {
    const points = Float64Array.from({ length: 1440 }, (_, i) => (i % 2 ? Math.sin : Math.cos)((Math.PI * (i - (i % 2))) / 720) * 35);
    expect(tapeLength(points)).toBeCloseTo(1440 * 35 * Math.sin(Math.PI / 720), 3);
  });
});

describe('cut and tilted tapes on a cylinder along X, r = 30', () => {
  const field: Field = (_x, y, z) => Math.hypot(y, z) - 30;
  const mesh = meshOf(field, [-80, -36, -36, 80, 36, 36], 1.5);

  it('cuts a closed circle across, and an ellipse at a slant', () => {
    const loop = loopAt(cut(mesh, [1, 0, 0], 3.3), [3.3, 0, 30]);
    expect(loop).not.toBeNull();
    expect(tapeLength(inPlane(loop as Float64Array, [0, 1, 0], [0, 0, 1]))).toBeCloseTo(2 * Math.PI * 30, 1);
    // Ellipse with half-axes 30 and 30·√2: Ramanujan's second formula.
    const [a, b] = [30 * Math.SQRT2, 30];
    const h = ((a - b) / (a + b)) ** 2;
    const ellipse = Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    expect(tapeWithY(mesh, [0, 0, 30], [1, 1])).toBeCloseTo(ellipse, 1);
  });

  it('finds the upright tape the smallest', () => {
    expect(smallestTilted(mesh, [0, 0, 30])).toBeCloseTo(2 * Math.PI * 30, 1);
  });

  it('says nothing of a loop that runs off the end', () => {
    expect(loopAt(cut(mesh, [0, 0, 1], 0), [0, 30, 0])).toBeNull();
  });
});

describe('rest plane', () => {
  it('is the hull facet under the point, not the lowest plane', () => {
    // A roof of two facets: z = |x| / 2 over a 200 mm square, with a high point that must not matter.
    const corners = [-100, -100, 50, -100, 100, 50, 0, -100, 0, 0, 100, 0, 100, -100, 50, 100, 100, 50, 20, 0, 90];
    const right = restPlane(Float64Array.from(corners), 30, 5);
    expect([right.slopeX, right.slopeY, right.height].map((c) => c + 0)).toEqual([0.5, 0, 0]);
    expect(restPlane(Float64Array.from(corners), -30, 5).slopeX).toBeCloseTo(-0.5, 12);
  });

  it('lies under all of 5000 points and touches three (seed 3)', () => {
    const random = randomFrom(3);
    const cloud = Float64Array.from({ length: 15000 }, (_, i) => (i % 3 === 2 ? 0.002 * random.normal(0, 40) ** 2 + random.between(0, 50) : random.between(-100, 100)));
    const plane = restPlane(cloud, 10, -20);
    let touching = 0;
    for (let i = 0; i < cloud.length; i += 3) {
      const over = cloud[i + 2] - plane.slopeX * cloud[i] - plane.slopeY * cloud[i + 1] - plane.height;
      expect(over).toBeGreaterThan(-1e-8);
      if (over < 1e-8) touching++;
    }
    expect(touching).toBe(3);
  });
});

describe('frame of a foot of balls', () => {
  const balls: readonly Ball[] = [
    { at: [30, 2, 30], r: 30 },
    { at: [196, 32, 18], r: 18 },
    { at: [165, -34, 15], r: 15 },
    { at: [258, 18, 11], r: 11 },
    { at: [60, 0, 140], r: 30 },
  ];

  /** The frame by hand: X through the heel ball's centre and the middle of the outermost points of the two ball balls. */
  function byHand() {
    const [heel, medial, lateral, toe] = balls;
    let x = [1, 0];
    for (let i = 0; i < 100; i++) {
      const y = [-x[1], x[0]];
      const m = [medial.at[0] + medial.r * y[0], medial.at[1] + medial.r * y[1]];
      const l = [lateral.at[0] - lateral.r * y[0], lateral.at[1] - lateral.r * y[1]];
      const to = [(m[0] + l[0]) / 2 - heel.at[0], (m[1] + l[1]) / 2 - heel.at[1]];
      const n = Math.hypot(to[0], to[1]);
      x = [to[0] / n, to[1] / n];
    }
    const along = (b: Ball) => (b.at[0] - heel.at[0]) * x[0] + (b.at[1] - heel.at[1]) * x[1];
    const rear = -heel.r;
    const origin = [heel.at[0] + rear * x[0], heel.at[1] + rear * x[1]];
    return { x, origin, length: along(toe) + toe.r - rear, medialAt: along(medial) - rear, lateralAt: along(lateral) - rear };
  }

  const exact: Field = (x, y, z) => Math.min(...balls.map(({ at, r }) => Math.hypot(x - at[0], y - at[1], z - at[2]) - r));
  const mesh = ballsMesh(balls, 1.2);
  const hand = byHand();

  it('agrees with the frame found by hand, from a start that is turned and tipped', () => {
    const c = Math.cos(0.3);
    const s = Math.sin(0.3);
    const tip = Math.cos(0.1);
    const tipped = frameTransform([c, s * tip, s * Math.sin(0.1)], [-s, c * tip, c * Math.sin(0.1)], [0, -Math.sin(0.1), tip], [40, -70, 25]);
    const found = referenceFrame(transformMesh(tipped, mesh), 'right');
    const p = transformPositions(found, transformPositions(tipped, Float64Array.from([hand.origin[0], hand.origin[1], 0, hand.origin[0] + 100 * hand.x[0], hand.origin[1] + 100 * hand.x[1], 0, hand.origin[0], hand.origin[1], 100])));
    const wanted = [0, 0, 0, 100, 0, 0, 0, 0, 100];
    p.forEach((v, i) => expect(Math.abs(v - wanted[i])).toBeLessThan(0.05));
  });

  it('finds length and ball points; on the exact surface to 1e-3 mm', () => {
    const frame = frameTransform([hand.x[0], hand.x[1], 0], [-hand.x[1], hand.x[0], 0], [0, 0, 1], [hand.origin[0], hand.origin[1], 0]);
    const field: Field = (x, y, z) => exact(hand.origin[0] + x * hand.x[0] - y * hand.x[1], hand.origin[1] + x * hand.x[1] + y * hand.x[0], z);
    const basis = frameBasis(transformMesh(frame, mesh), 'right', field);
    expect(basis.footLength).toBeCloseTo(hand.length, 1);
    expect(basis.medialBall[0]).toBeCloseTo(hand.medialAt, 3);
    expect(basis.lateralBall[0]).toBeCloseTo(hand.lateralAt, 3);
    expect(basis.medialBall[2]).toBeCloseTo(18, 3);
    // Heel ball: the section at 0.16 FL is a circle; it is cut at 0.20 FL, above its widest place.
    const off = 0.16 * basis.footLength - 30;
    expect(basis.heelWidth).toBeCloseTo(2 * Math.sqrt(900 - off * off), 1);
  });

  it('climbs to the outermost point of an ellipsoid', () => {
    const ellipsoid: Field = (x, y, z) => (Math.hypot((x - 3) / 120, (y + 2) / 40, (z - 20) / 20) - 1) * 20;
    const [x, y, z] = outermost(ellipsoid, [15, 37, 22], 1, -50, 50);
    expect(y).toBeCloseTo(38, 6);
    expect(x).toBeCloseTo(3, 2);
    expect(z).toBeCloseTo(20, 2);
    expect(outermost(ellipsoid, [15, 37, 22], 1, 10, 50)[0]).toBeCloseTo(10, 6);
  });
});
