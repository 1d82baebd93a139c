import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compactVertices } from '@cast-to-last/geometry/mesh/components';
import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import { medialSign } from '../side.js';
import type { Plane } from '../rest-plane.js';
import { restPlaneUnder } from '../rest-plane.js';
import { contactPlane } from './contact-plane.js';
import { plateSupport } from './plate-support.js';
import type { Plates } from './plates.js';
import { restBesideBumps } from './rest-beside-bumps.js';
import { between } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range, round soles and pressed ones. */
export const LEVEL = {
  /** What lies this near to a plate was pressed on it, mm; and how far behind the ball centre the rear one ends, mm. */
  within: 0.3,
  behindBall: 8,
  /** Pressed surface from which on the plate alone tells the level, and below which it tells nothing, mm² at 260 mm of foot length. */
  plate: 1700,
  noPlate: 1200,
  footLength: 260,
  /** Standard deviation of the blur that takes ridges off a sole that was pressed on nothing, mm. */
  blur: 4,
  /** What lies lower than this is blurred, share of foot length: it carries the cast, or lies beside what does. */
  ceiling: 0.08,
  /** A rear plate that reaches this far beyond the middle of the rest plane in every direction is what the cast stands on, mm. */
  support: 4,
} as const;

/** How far the plane that the sole itself stands on is turned from the foot frame's rest plane, radians. */
export interface Level {
  /** About Y: what leans by nothing in the frame leans by this to the toes. */
  readonly pitch: number;
  /** About X, towards the inner side. */
  readonly roll: number;
  /** How far the roll differs from that of the rear of the sole alone: as far as a twisted or hammocked sole is of two minds. */
  readonly apart: number;
  /** Whether a plate carries the sole all round, so that no three points of it decide. */
  readonly carried: boolean;
}

/**
 * The level of a sole: three points carry the frame, and a ridge or bump that smoothing left among them tilts it by up to
 * a degree and more. A sole that a plate carries on all sides stands on the plate. On one that was pressed on a plate in
 * parts, such a bump rises alone, and the sole rests on what is left; the level of a round one is that of the surface blurred.
 *
 * @param sole vertices of the sole that can be leaned on
 * @param plates what it was pressed on; null where it does not show, or where the forefoot was rolled off it
 * @param ahead what the sole ahead of the heel stood on where the heel was tilted off it: the cast stands on the heel's edge or on nothing behind, the foot stood on this
 */
export function soleLevel(cast: StandingCast, sole: Uint32Array, plates: Plates | null = null, ahead: Plane | null = null): Level {
  const { ballCentre, footLength } = cast.landmarks;
  const m = medialSign(cast.side);
  if (plates !== null && (ahead !== null || plateSupport(cast, sole, plates) >= LEVEL.support)) {
    return { pitch: Math.atan(plates.rear.a), roll: m * Math.atan(plates.rear.b), apart: 0, carried: true };
  }
  if (ahead !== null) return { ...soleLevel(cast, sole), pitch: Math.atan(ahead.a) };
  const plate = contactPlane(cast, between(cast, sole, -Infinity, ballCentre[0] - LEVEL.behindBall), LEVEL.within);
  const area = plate === null ? 0 : plate.area * (LEVEL.footLength / footLength) ** 2;
  const share = Math.max(0, Math.min(1, (area - LEVEL.noPlate) / (LEVEL.plate - LEVEL.noPlate)));
  const blurred = share === 1 ? null : blurredPlane(cast);
  const pressed = share === 0 ? null : restBesideBumps(cast, sole);
  const pitch = pressed === null ? 0 : share * Math.atan(pressed.a);
  const roll = m * ((pressed === null ? 0 : share * Math.atan(pressed.b)) + (blurred === null ? 0 : (1 - share) * Math.atan(blurred.b)));
  return { pitch, roll, apart: plate === null ? 0 : Math.abs(roll - m * Math.atan(plate.b)), carried: false };
}

/** The plane that the blurred sole rests on; null where none carries it. */
function blurredPlane({ mesh, landmarks: { heelCentre: h, ballCentre: b, footLength } }: StandingCast): Plane | null {
  const { positions } = lowPass(lowPart(mesh, LEVEL.ceiling * footLength), LEVEL.blur);
  return restPlaneUnder(positions, (h[0] + b[0]) / 2, (h[1] + b[1]) / 2);
}

/** The triangles that lie lower than a height. */
function lowPart({ positions: p, triangles: t }: Mesh, ceiling: number): Mesh {
  const kept: number[] = [];
  for (let f = 0; f < t.length; f += 3) {
    if (p[3 * t[f] + 2] < ceiling && p[3 * t[f + 1] + 2] < ceiling && p[3 * t[f + 2] + 2] < ceiling) kept.push(t[f], t[f + 1], t[f + 2]);
  }
  return compactVertices({ positions: p, triangles: Uint32Array.from(kept) });
}
