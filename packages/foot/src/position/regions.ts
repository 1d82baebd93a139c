import type { Landmarks } from '../landmarks.js';
import type { Side } from '../side.js';
import { medialSign } from '../side.js';
import { aheadOfBallLine } from '../ball-line.js';

export const REGIONS = ['toes', 'ball', 'sole', 'arch', 'heel', 'instep', 'ankle', 'sides'] as const;
export type Region = (typeof REGIONS)[number];

/** Bounds of the regions as shares of foot length, and as cosines of the surface's direction. */
const BOUNDS = { ball: 0.065, ankle: 0.25, ankleFront: 0.48, heel: 0.28, archTo: 0.62, archTop: 0.14, down: -0.6, up: 0.35, archFacing: 0.1 } as const;

/**
 * The region of the foot that a piece of its surface belongs to.
 *
 * @param x foot frame, mm
 * @param up z of the unit normal
 */
export function regionAt(x: number, y: number, z: number, up: number, side: Side, landmarks: Landmarks): Region {
  const { footLength: fl } = landmarks;
  const ahead = aheadOfBallLine(x, y, landmarks);
  if (ahead > BOUNDS.ball * fl) return 'toes';
  if (z > BOUNDS.ankle * fl && x < BOUNDS.ankleFront * fl) return 'ankle';
  if (ahead >= -BOUNDS.ball * fl) return 'ball';
  const inner = medialSign(side) * y > 0;
  if (inner && x > BOUNDS.heel * fl && x < BOUNDS.archTo * fl && z < BOUNDS.archTop * fl && up < BOUNDS.archFacing) return 'arch';
  if (x < BOUNDS.heel * fl) return 'heel';
  if (up < BOUNDS.down) return 'sole';
  return up > BOUNDS.up ? 'instep' : 'sides';
}
