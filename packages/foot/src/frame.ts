import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { compose, frameTransform, identity, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import { outermost } from './ball-point.js';
import { breadthBelow } from './breadth-below.js';
import type { Point } from './landmarks.js';
import { restPlaneUnder } from './rest-plane.js';
import type { Side } from './side.js';
import { medialSign } from './side.js';
import { unit } from '@cast-to-last/geometry/numerics/vectors';

/** Fractions of foot length that define the frame. Heel breadth at 16 %: Lee, Lin & Wang 2014, J Foot Ankle Res, doi 10.1186/s13047-014-0044-7. */
export const FRAME = {
  heelSection: 0.16,
  heelCeiling: 0.2,
  /** The heel's rearmost point is sought below this height, so that a calf behind the heel is not taken for it. */
  pternionCeiling: 0.3,
  medialBall: [0.62, 0.82],
  lateralBall: [0.52, 0.74],
} as const;

/** Surface of a cast to above the ankle, as a multiple of its squared length: about 1,050 cm² at 265 mm (generated feet). */
const SURFACE_SHARE = 1.5;

/** The points that the frame rests on, in the coordinates of the mesh they were found on. */
export interface FrameLandmarks {
  readonly footLength: number;
  readonly pternion: Point;
  readonly toeTip: Point;
  readonly heelCentre: Point;
  readonly heelWidth: number;
  readonly medialBall: Point;
  readonly lateralBall: Point;
  readonly ballCentre: Point;
}

/**
 * Finds the frame's points on a mesh that already stands in a foot frame, if only roughly (z up, x to the toes).
 *
 * @returns null where the mesh holds no heel section or no ball
 */
export function frameLandmarks(mesh: Mesh, twin: Int32Array, side: Side): FrameLandmarks | null {
  return landmarksAmong(mesh.positions, (x) => section(mesh, twin, [1, 0, 0], x), side);
}

/**
 * @param p positions in the rough frame
 * @param across the section at x, in the rough frame
 */
function landmarksAmong(p: Float64Array, across: (x: number) => SectionCurve[], side: Side): FrameLandmarks | null {
  if (p.length === 0) return null;
  const { floor, front, length } = ends(p);
  const back = rearmostBelow(p, floor + FRAME.pternionCeiling * length);
  const start = p[back];
  const footLength = p[front] - start;
  if (!(footLength > 0)) return null;

  const heel = breadthBelow(across(start + FRAME.heelSection * footLength), floor + FRAME.heelCeiling * footLength);
  if (heel === null) return null;
  const m = medialSign(side);
  const spacing = footLength * Math.sqrt(SURFACE_SHARE / (p.length / 3));
  const a = outermost(p, start + FRAME.medialBall[0] * footLength, start + FRAME.medialBall[1] * footLength, spacing, m, footLength);
  const b = outermost(p, start + FRAME.lateralBall[0] * footLength, start + FRAME.lateralBall[1] * footLength, spacing, -m, footLength);
  if (a === null || b === null) return null;
  const at = (i: number): Point => [p[i], p[i + 1], p[i + 2]];
  return {
    footLength,
    pternion: at(back),
    toeTip: at(front),
    heelCentre: [start + FRAME.heelSection * footLength, (heel[0] + heel[1]) / 2, floor],
    heelWidth: heel[1] - heel[0],
    medialBall: a,
    lateralBall: b,
    ballCentre: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, floor],
  };
}

/** The lowest z, where the first of the foremost vertices stands in `p`, and how far the rearmost lies behind it. */
function ends(p: Float64Array): { readonly floor: number; readonly front: number; readonly length: number } {
  let floor = p[2];
  let front = 0;
  let foremost = p[0];
  let rearmost = p[0];
  for (let i = 3; i < p.length; i += 3) {
    const x = p[i];
    if (p[i + 2] < floor) floor = p[i + 2];
    if (x > foremost) {
      foremost = x;
      front = i;
    }
    if (x < rearmost) rearmost = x;
  }
  return { floor, front, length: foremost - rearmost };
}

/** Where the first of the rearmost vertices up to a height stands in `p`; −1 where there is none. */
function rearmostBelow(p: Float64Array, ceiling: number): number {
  let back = -1;
  let rearmost = Infinity;
  for (let i = 0; i < p.length; i += 3) {
    if (p[i + 2] > ceiling || p[i] >= rearmost) continue;
    rearmost = p[i];
    back = i;
  }
  return back;
}

export interface SettledFrame {
  /** Coordinates of the given mesh → foot frame. */
  readonly transform: Transform;
  /** The frame's points in the foot frame. */
  readonly landmarks: FrameLandmarks;
  readonly rounds: number;
  /** False where the frame still swung between states after the last round (their mean is returned). */
  readonly settled: boolean;
}

const ROUNDS = 60;
const UNCHANGED = 1e-6;

/**
 * The foot frame as the fixed point of its definition, from a rough start: rest plane under the mid-point of heel centre
 * and ball centre, X along the heel–ball axis, origin under the pternion.
 *
 * @param start coordinates of the mesh → a rough foot frame
 * @returns null where the mesh holds no heel or ball under this start
 */
export function settleFrame(mesh: Mesh, twin: Int32Array, side: Side, start: Transform): SettledFrame | null {
  let transform = start;
  let last: FrameLandmarks | null = null;
  const standing = new Float64Array(mesh.positions.length);
  for (let round = 1; round <= ROUNDS; round++) {
    transformPositions(transform, mesh.positions, standing);
    const points = landmarksAmong(standing, sectionsIn(mesh, twin, transform), side);
    if (points === null) return null;
    last = points;
    // After half the rounds every step is halved, so that a frame that swings between two points comes to rest.
    const change = damp(stepToFrame(standing, points), round > ROUNDS / 2 ? 0.5 : 1);
    if (change === null) return null;
    transform = compose(change, transform);
    if (isUnchanged(change)) {
      const landmarks = landmarksAmong(transformPositions(transform, mesh.positions, standing), sectionsIn(mesh, twin, transform), side);
      return landmarks === null ? null : { transform, landmarks: onRestPlane(landmarks), rounds: round, settled: true };
    }
  }
  return last === null ? null : { transform, landmarks: onRestPlane(last), rounds: ROUNDS, settled: false };
}

/** Sections at x of a frame, cut in the mesh's own coordinates (so that its index serves every round) and stood up after. */
const sectionsIn =
  (mesh: Mesh, twin: Int32Array, frame: Transform) =>
  (x: number): SectionCurve[] =>
    section(mesh, twin, frame.subarray(0, 3), x - frame[3]).map((curve) => ({ ...curve, points: transformPositions(frame, curve.points) }));

/** The heel and ball centres are put down on the rest plane, which is z = 0 once the frame is settled. */
const onRestPlane = (points: FrameLandmarks): FrameLandmarks => ({
  ...points,
  heelCentre: [points.heelCentre[0], points.heelCentre[1], 0],
  ballCentre: [points.ballCentre[0], points.ballCentre[1], 0],
});

/** The rigid step from where the mesh stands to the frame that its points ask for; null where no plane carries it. */
function stepToFrame(positions: Float64Array, points: FrameLandmarks): Transform | null {
  const { heelCentre: h, ballCentre: b, pternion } = points;
  const plane = restPlaneUnder(positions, (h[0] + b[0]) / 2, (h[1] + b[1]) / 2);
  if (plane === null) return null;
  const length = Math.hypot(plane.a, plane.b, 1);
  const z = [-plane.a / length, -plane.b / length, 1 / length];
  const along = [b[0] - h[0], b[1] - h[1], 0];
  const lift = along[0] * z[0] + along[1] * z[1];
  const x = along.map((c, k) => c - lift * z[k]);
  const norm = Math.hypot(x[0], x[1], x[2]);
  if (!(norm > 0)) return null;
  for (let k = 0; k < 3; k++) x[k] /= norm;
  const y = [z[1] * x[2] - z[2] * x[1], z[2] * x[0] - z[0] * x[2], z[0] * x[1] - z[1] * x[0]];
  // The origin lies on the axis (the line through the heel centre along X), under the pternion, on the rest plane.
  const back = (pternion[0] - h[0]) * x[0] + (pternion[1] - h[1]) * x[1] + (pternion[2] - h[2]) * x[2];
  const origin = [h[0] + back * x[0], h[1] + back * x[1], h[2] + back * x[2]];
  const above = origin[0] * z[0] + origin[1] * z[1] + origin[2] * z[2] - plane.c * z[2];
  return frameTransform(x, y, z, origin.map((c, k) => c - above * z[k]));
}

/** The part `share` of a small rigid step, kept rigid. */
function damp(step: Transform | null, share: number): Transform | null {
  if (step === null || share === 1) return step;
  const mix = identity().map((e, i) => e + share * (step[i] - e));
  const x = unit([mix[0], mix[1], mix[2]]);
  const zRaw = [mix[8], mix[9], mix[10]];
  const lean = x[0] * zRaw[0] + x[1] * zRaw[1] + x[2] * zRaw[2];
  const z = unit(zRaw.map((c, k) => c - lean * x[k]));
  const y = [z[1] * x[2] - z[2] * x[1], z[2] * x[0] - z[0] * x[2], z[0] * x[1] - z[1] * x[0]];
  return new Float64Array([...x, mix[3], ...y, mix[7], ...z, mix[11], 0, 0, 0, 1]);
}

function isUnchanged(step: Transform): boolean {
  const still = identity();
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) if (Math.abs(step[4 * r + c] - still[4 * r + c]) > UNCHANGED) return false;
  }
  return Math.hypot(step[3], step[7], step[11]) < 1e-4;
}
