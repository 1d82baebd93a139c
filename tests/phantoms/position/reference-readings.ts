import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { cut } from '../reference/cut.js';
import { soleFlatness } from './reference-flatness.js';
import { soleSurface } from './reference-planes.js';
import { heelSeatPitch, solePlanes } from './reference-sole.js';
import { achillesLean, shankLean } from './reference-shank.js';

/** What the clean surface of a right foot in its frame reads; degrees, mm, null where it cannot be read. */
export interface PositionReadings {
  readonly bendDeg: number;
  readonly twistDeg: number;
  /** The crease ahead of the inside ball point. */
  readonly hingeMm: number | null;
  readonly heelOnPlateDeg: number;
  readonly flatnessMm: number;
  /** Against the upright of the foot frame, not the floor's. */
  readonly leanInFrameDeg: number | null;
  readonly rearViewDeg: number | null;
  /** Breadth at 0.86 FL over ball width. */
  readonly toeBox: number;
  /** The same at 0.93 FL. */
  readonly toeSpread: number;
}

const breadthAt = (mesh: Mesh, x: number): number => {
  const { segments } = cut(mesh, [1, 0, 0], x);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 1; i < segments.length; i += 3) {
    low = Math.min(low, segments[i]);
    high = Math.max(high, segments[i]);
  }
  return high - low;
};

export interface ReadWithin {
  /** How high the leg is whole, mm. */
  readonly top: number;
  /** x of the longest toe's tip: bandage beyond it is no sole. */
  readonly toeEnd: number;
  /** Where the hinge was planted, ahead of the inside ball point. */
  readonly hingeMm: number;
}

/** The readings of a right foot's clean surface that stands in the foot frame. */
export function positionReadings(mesh: Mesh, landmarks: Landmarks, { top, toeEnd, hingeMm }: ReadWithin): PositionReadings {
  const surface = soleSurface(mesh);
  const { rear, front, bendDeg, twistDeg, crease } = solePlanes(surface, landmarks, toeEnd, hingeMm);
  const { medialBall: m, lateralBall: l, footLength: fl } = landmarks;
  const ballWidth = Math.hypot(m[0] - l[0], m[1] - l[1]);
  return {
    bendDeg,
    twistDeg,
    hingeMm: crease === null ? null : crease - m[0],
    heelOnPlateDeg: heelSeatPitch(surface, fl),
    flatnessMm: soleFlatness(surface, landmarks, { rear, front, toeEnd }),
    leanInFrameDeg: shankLean(mesh, landmarks, top),
    rearViewDeg: achillesLean(mesh, landmarks, top),
    toeBox: breadthAt(mesh, 0.86 * fl) / ballWidth,
    toeSpread: breadthAt(mesh, 0.93 * fl) / ballWidth,
  };
}
