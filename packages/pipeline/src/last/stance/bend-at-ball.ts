import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Stance } from './stance-of.js';

export const BEND = {
  /** Shortest half of the arc over which the sole turns, mm. */
  leastHalf: 15,
  /** The dorsum over the arc keeps at least this share of its length where it is turned most. */
  dorsumKeeps: 0.4,
  /** Greatest half of the arc, as a share of foot length. */
  mostHalf: 0.13,
  /** Greatest angle that the sole is turned by, radians. */
  most: (30 * Math.PI) / 180,
  /** Height over the rest plane up to which the fibres that turn lean with the crease, as a share of foot length. */
  ceiling: 0.35,
} as const;

/** The turn of what lies ahead of the crease about an axis across the foot. */
export interface BallBend {
  /** Radians, front rising positive. */
  readonly angle: number;
  /** x and z of the crease, mm. */
  readonly crease: number;
  readonly creaseHeight: number;
  /** How far the sole's neutral line is tilted where the turn begins: half-way between the planes, radians. */
  readonly tilt: number;
  /** Half of the arc over which the turn grows, mm. */
  readonly half: number;
  /** Height of the line that keeps its length over the neutral line's middle, mm: the sole's mean height along the arc. */
  readonly neutral: number;
  readonly ceiling: number;
}

/** Steepest growth of the turn over its mean: that of the cubic step. */
const STEEPEST = 1.5;

/**
 * The turn that changes the bend of a stance by `angle`. The arc is as short as the dorsum allows: its length is what
 * leaves the dorsum BEND.dorsumKeeps of its own where it is pressed together most.
 */
export function ballBend(stance: Stance, angle: number, dorsumHeight: number, footLength: number): BallBend {
  const wanted = (STEEPEST * Math.abs(angle) * dorsumHeight) / (2 * (1 - BEND.dorsumKeeps));
  const half = Math.max(BEND.leastHalf, Math.min(BEND.mostHalf * footLength, wanted));
  const tilt = stance.rearSlope + stance.bend / 2;
  // The sole rises from the crease on both sides by half the bend; the turn's growth weighs its heights (cubic step: 3/8 of the half).
  const neutral = Math.tan(stance.bend / 2) * half * 0.375;
  return { angle, crease: stance.crease, creaseHeight: stance.creaseHeight, tilt, half, neutral, ceiling: BEND.ceiling * footLength };
}

/** The mesh with what lies ahead of the arc turned rigidly and the arc bent; what lies behind stays bit for bit. */
export function bendMesh({ positions, triangles }: Mesh, bend: BallBend): Mesh {
  const out = positions.slice();
  const turn = turner(bend);
  for (let i = 0; i < out.length; i += 3) turn(out, i);
  return { positions: out, triangles };
}

/** Landmarks carried along; the ball centre stays on the rest plane, and foot length the foot's own. */
export function bendLandmarks(landmarks: Landmarks, bend: BallBend): Landmarks {
  const turn = turner(bend);
  const at = (point: Point): Point => {
    const p = Float64Array.from(point);
    turn(p, 0);
    return [p[0], p[1], p[2]];
  };
  const where = (point: Point | null): Point | null => (point === null ? null : at(point));
  const medialBall = at(landmarks.medialBall);
  const lateralBall = at(landmarks.lateralBall);
  return {
    ...landmarks,
    toeTip: at(landmarks.toeTip),
    medialBall,
    lateralBall,
    ballCentre: [(medialBall[0] + lateralBall[0]) / 2, (medialBall[1] + lateralBall[1]) / 2, 0],
    instep: where(landmarks.instep),
    waist: where(landmarks.waist),
  };
}

/** Moves the point p[i] … p[i + 2] in place. */
function turner({ angle, crease, creaseHeight, tilt, half, neutral, ceiling }: BallBend): (p: Float64Array, i: number) => void {
  const c = Math.cos(tilt);
  const s = Math.sin(tilt);
  const path = arc(angle, half);
  return (p, i) => {
    const x = p[i] - crease;
    const z = p[i + 2] - creaseHeight;
    // Fibres stand square on the neutral line through the crease; what stands over the foot leans no further.
    const u = x * c + Math.min(z, ceiling) * s;
    if (u <= -half) return;
    const h = -x * s + z * c - neutral;
    const along = x * c + z * s;
    const [px, pz, turned] = path(u);
    // The point of the arc, and from there across it; beyond the ceiling along it, too.
    const tx = Math.cos(turned);
    const tz = Math.sin(turned);
    const w = px - h * tz + (along - u) * tx;
    const v = pz + h * tx + (along - u) * tz + neutral;
    p[i] = crease + w * c - v * s;
    p[i + 2] = creaseHeight + w * s + v * c;
  };
}

/** Simpson steps over the arc. */
const STEPS = 400;

/** The neutral line bent by `angle` between −half and half by a cubic step: its point and direction at a distance along it. */
function arc(angle: number, half: number): (u: number) => readonly [number, number, number] {
  const direction = (u: number): number => {
    const t = Math.max(0, Math.min(1, (u + half) / (2 * half)));
    return angle * t * t * (3 - 2 * t);
  };
  const step = (2 * half) / STEPS;
  const points = new Float64Array(2 * (STEPS + 1));
  points[0] = -half;
  for (let k = 0; k < STEPS; k++) {
    const u = -half + k * step;
    const d0 = direction(u);
    const d1 = direction(u + step / 2);
    const d2 = direction(u + step);
    points[2 * k + 2] = points[2 * k] + (step / 6) * (Math.cos(d0) + 4 * Math.cos(d1) + Math.cos(d2));
    points[2 * k + 3] = points[2 * k + 1] + (step / 6) * (Math.sin(d0) + 4 * Math.sin(d1) + Math.sin(d2));
  }
  return (u) => {
    const turned = direction(u);
    const k = Math.max(0, Math.min(STEPS, Math.floor((u + half) / step)));
    const from = -half + k * step;
    const rest = u - from;
    // Less than a step within the arc, straight on beyond it.
    const middle = direction(from + rest / 2);
    return [points[2 * k] + rest * Math.cos(middle), points[2 * k + 1] + rest * Math.sin(middle), turned];
  };
}
