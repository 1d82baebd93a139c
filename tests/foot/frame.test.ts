import { beforeAll, describe, expect, it } from 'vitest';
import type { FrameLandmarks, SettledFrame } from '@cast-to-last/foot/frame';
import { breadthBelow } from '@cast-to-last/foot/breadth-below';
import { FRAME, frameLandmarks, settleFrame } from '@cast-to-last/foot/frame';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { section } from '@cast-to-last/geometry/sections/section';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { compose, frameTransform, identity, invertRigid, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { mirrorMesh } from '../phantoms/surface/mirror-mesh.ts';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { footShape } from '../support/foot-shape.ts';
import type { Rng } from '../support/rng.ts';
import { rng } from '../support/rng.ts';

/** A turn by up to `angle` about any axis and a shift of up to `reach`. */
function rigid(random: Rng, angle: number, reach: number): Transform {
  const [x, y, z] = random.direction();
  const turn = random.range(-angle, angle);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const row = (a: number[]): number[] => a;
  const rows = [
    row([c + x * x * (1 - c), x * y * (1 - c) - z * s, x * z * (1 - c) + y * s]),
    row([y * x * (1 - c) + z * s, c + y * y * (1 - c), y * z * (1 - c) - x * s]),
    row([z * x * (1 - c) - y * s, z * y * (1 - c) + x * s, c + z * z * (1 - c)]),
  ];
  return frameTransform(rows[0], rows[1], rows[2], [0, 1, 2].map(() => random.range(-reach, reach)));
}

const settle = (mesh: Mesh, side: Side, start = identity()): SettledFrame => {
  const found = settleFrame(mesh, twins(mesh), side, start);
  if (found === null) throw new Error('no frame');
  return found;
};

const POINTS = ['pternion', 'toeTip', 'heelCentre', 'medialBall', 'lateralBall', 'ballCentre'] as const;
const farthest = (a: FrameLandmarks, b: FrameLandmarks, mirror: 1 | -1 = 1): number =>
  Math.max(Math.abs(a.footLength - b.footLength), Math.abs(a.heelWidth - b.heelWidth), ...POINTS.map((name) => Math.hypot(a[name][0] - b[name][0], a[name][1] - mirror * b[name][1], a[name][2] - b[name][2])));

const plain = { triangles: 6000, denseTriangles: 30_000, side: 'right', posed: false, dents: 0, bumps: 0, ridges: 0, seam: false } as const;
const phantoms = [makePhantom(51, { ...plain, family: 'bones' }), makePhantom(52, { ...plain, family: 'sections' })];
const bodies: readonly (readonly [string, Mesh])[] = [
  ['a hand-made shape', footShape({ rings: 140, around: 96 })],
  ['phantom 51', phantoms[0].truth.clean],
  ['phantom 52', phantoms[1].truth.clean],
];

describe.each(bodies)('settled frame of %s', (_, mesh) => {
  let frame: SettledFrame;
  beforeAll(() => {
    frame = settle(mesh, 'right');
  });

  it('is what its definition says', () => {
    const { landmarks: l, transform } = frame;
    expect(frame.settled).toBe(true);
    const p = transformPositions(transform, mesh.positions);
    // Nothing lies under the rest plane, and three vertices on it.
    const z = p.filter((_c, i) => i % 3 === 2).sort();
    expect(z[0]).toBeGreaterThan(-1e-3);
    expect(z[2]).toBeLessThan(1e-3);
    // Heel centre and ball centre on the axis, the heel's rearmost point at its start.
    for (const y of [l.heelCentre[1], l.ballCentre[1], l.medialBall[1] + l.lateralBall[1]]) expect(Math.abs(y)).toBeLessThan(2e-3);
    expect(Math.abs(l.pternion[0])).toBeLessThan(1e-3);
    expect(l.heelCentre[0]).toBeCloseTo(FRAME.heelSection * l.footLength, 2);
    expect([l.heelCentre[2], l.ballCentre[2]]).toEqual([0, 0]);
    expect(l.medialBall[1]).toBeGreaterThan(l.lateralBall[1]);
    expect(l.footLength).toBeCloseTo(Math.max(...p.filter((_c, i) => i % 3 === 0)), 2);
    for (const [point, [from, to]] of [[l.medialBall, FRAME.medialBall], [l.lateralBall, FRAME.lateralBall]] as const) {
      expect(point[0] / l.footLength).toBeGreaterThanOrEqual(from - 1e-4);
      expect(point[0] / l.footLength).toBeLessThanOrEqual(to + 1e-4);
    }
  });

  it('is a fixed point: settling again turns nothing by more than 1e-5', () => {
    const again = settle(mesh, 'right', frame.transform);
    expect(again.rounds).toBeLessThanOrEqual(2);
    again.transform.forEach((c, i) => expect(Math.abs(c - frame.transform[i])).toBeLessThan(i % 4 === 3 ? 2e-3 : 1e-5));
  });

  it.each([1, 2, 3])('is reached from a start that is 10° and 20 mm off, wherever the mesh lies: landmarks within 0.02 mm (seed %i)', (seed) => {
    const random = rng(seed);
    const pose = rigid(random, Math.PI, 400);
    const start = compose(rigid(random, (10 * Math.PI) / 180, 20), invertRigid(pose));
    expect(farthest(settle(transformMesh(pose, mesh), 'right', start).landmarks, frame.landmarks)).toBeLessThan(0.02);
  });

  it('of the mirrored mesh is the mirrored one', () => {
    const left = settle(mirrorMesh(mesh), 'left');
    expect(farthest(left.landmarks, frame.landmarks, -1)).toBeLessThan(0.02);
    expect(left.landmarks.medialBall[1]).toBeLessThan(0);
  });
});

describe('settled frame against the truth of phantoms', () => {
  it.each([0, 1])('lies within 0.1 mm RMS over the clean surface (phantom %i)', (which) => {
    const { clean } = phantoms[which].truth;
    const moved = transformPositions(settle(clean, 'right').transform, clean.positions);
    let sum = 0;
    moved.forEach((c, i) => (sum += (c - clean.positions[i]) ** 2));
    expect(Math.sqrt(sum / (moved.length / 3))).toBeLessThan(0.1);
  });
});

describe('frame landmarks', () => {
  it('of an ellipsoid are those of its closed form', () => {
    // Half-axes 130, 45, 35 on the rest plane; its outline is widest at half its length, before both ball windows.
    const mesh = ellipsoid([130, 45, 35], [130, 0, 35], 6);
    const l = frameLandmarks(mesh, twins(mesh), 'left');
    const halfWidth = (x: number): number => 45 * Math.sqrt(1 - ((x - 130) / 130) ** 2);
    expect(l?.footLength).toBeCloseTo(260, 2);
    expect(l?.heelWidth).toBeCloseTo(2 * halfWidth(0.16 * 260), 1);
    expect(l?.medialBall[0]).toBeCloseTo(0.62 * 260, 1);
    expect(l?.medialBall[1]).toBeCloseTo(-halfWidth(0.62 * 260), 1);
    expect(l?.lateralBall[0]).toBeCloseTo(0.52 * 260, 1);
    expect(l?.lateralBall[1]).toBeCloseTo(halfWidth(0.52 * 260), 1);
  });

  it('takes the heel\'s rearmost point from below 0.30 of the length, not from a calf that hangs over it', () => {
    const heel = ellipsoid([130, 45, 35], [130, 0, 35], 5);
    const calf = ellipsoid([30, 30, 30], [10, 0, 130], 4);
    const both = { positions: new Float64Array([...heel.positions, ...calf.positions]), triangles: new Uint32Array([...heel.triangles, ...calf.triangles.map((v) => v + heel.positions.length / 3)]) };
    const l = frameLandmarks(both, twins(both), 'right');
    expect(l?.pternion[0]).toBeCloseTo(0, 1);
    expect(l?.footLength).toBeCloseTo(260, 1);
  });

  it('are none of an empty mesh, and none where heel or ball is missing', () => {
    const nothing = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    expect(frameLandmarks(nothing, twins(nothing), 'left')).toBeNull();
    const ends = [ellipsoid([5, 5, 5], [5, 0, 5], 2), ellipsoid([5, 5, 5], [255, 0, 5], 2)];
    const apart = { positions: new Float64Array([...ends[0].positions, ...ends[1].positions]), triangles: new Uint32Array([...ends[0].triangles, ...ends[1].triangles.map((v) => v + ends[0].positions.length / 3)]) };
    expect(frameLandmarks(apart, twins(apart), 'left')).toBeNull();
    expect(settleFrame(apart, twins(apart), 'left', identity())).toBeNull();
  });
});

describe('breadth below a ceiling', () => {
  it('of a circle is cut exactly at the ceiling', () => {
    const mesh = ellipsoid([40, 40, 40], [0, 5, 40], 6);
    const curves = section(mesh, twins(mesh), [1, 0, 0], 0.01);
    // Facets of 0.7 mm lie up to 0.002 mm inside.
    expect(breadthBelow(curves, 60)).toEqual([expect.closeTo(-35, 2), expect.closeTo(45, 2)]);
    const half = Math.sqrt(40 ** 2 - 25 ** 2);
    expect(breadthBelow(curves, 15)).toEqual([expect.closeTo(5 - half, 2), expect.closeTo(5 + half, 2)]);
    expect(breadthBelow(curves, -1)).toBeNull();
    expect(breadthBelow([], 10)).toBeNull();
  });
});
