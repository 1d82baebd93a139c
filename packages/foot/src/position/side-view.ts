import type { LeanLine } from './lean-line.js';
import { leanLine } from './lean-line.js';
import { shankSections } from './shank-sections.js';
import type { StandingCast } from './standing-cast.js';

export const SIDE_VIEW = {
  /** The line begins this far over the crook of the ankle, mm. */
  overCrook: 4,
  /** A section of which more than this share is not to be leaned on is left out. */
  mostUnsure: 0.12,
} as const;

/**
 * Side view: the middle line of the shank from just above the crook of the ankle, seen in XZ; angle to the toes positive.
 *
 * @param lift how much higher than usual the line begins, mm
 * @returns null where the crook is not known or the cast ends too near above it
 */
export function sideLine(cast: StandingCast, lift = 0): LeanLine | null {
  const { crook } = cast.landmarks;
  if (crook === null) return null;
  const sections = shankSections(cast, crook[2] + SIDE_VIEW.overCrook + lift).filter((s) => s.unsure <= SIDE_VIEW.mostUnsure);
  return leanLine(sections.map((s) => s.z), sections.map((s) => s.x));
}
