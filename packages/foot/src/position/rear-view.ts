import { medialSign } from '../side.js';
import type { LeanLine } from './lean-line.js';
import { leanLine } from './lean-line.js';
import { shankSections } from './shank-sections.js';
import type { StandingCast } from './standing-cast.js';

/** The rear view's line begins at this share of foot length. */
export const REAR_VIEW = { from: 0.22 } as const;

/**
 * Rear view: the line of the Achilles tendon, through the middles of its chords, seen in YZ; values are towards the inner
 * side, and so is a positive angle.
 *
 * @returns the line and the mean x of its chords; null where the cast holds too little of it
 */
export function rearLine(cast: StandingCast): (LeanLine & { readonly x: number }) | null {
  const m = medialSign(cast.side);
  const heights: number[] = [];
  const values: number[] = [];
  let x = 0;
  for (const { z, achilles, chordX } of shankSections(cast, REAR_VIEW.from * cast.landmarks.footLength)) {
    if (achilles === null) continue;
    heights.push(z);
    values.push(m * achilles);
    x += chordX;
  }
  const line = leanLine(heights, values);
  return line === null ? null : { ...line, x: x / heights.length };
}
