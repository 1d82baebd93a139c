import { ringArea } from './smooth-ring.js';
import type { TopPlane } from './top-plane.js';

/** A flat top: its plane, and its outline as u, v pairs in the plane's axes, turning left seen from above; mm. */
export interface FlatTop {
  readonly plane: TopPlane;
  readonly outline: Float64Array;
}

/** The middle of the area of the flat top, u and v. */
export function middleOfTop({ outline }: FlatTop): [number, number] {
  const area = ringArea(outline);
  let u = 0;
  let v = 0;
  for (let i = 0, j = outline.length - 2; i < outline.length; j = i, i += 2) {
    const cross = outline[j] * outline[i + 1] - outline[i] * outline[j + 1];
    u += (outline[i] + outline[j]) * cross;
    v += (outline[i + 1] + outline[j + 1]) * cross;
  }
  return [u / (6 * area), v / (6 * area)];
}

/** Where a line across (u or v fixed, by `axis`) first and last meets the outline, in the other coordinate; null where it does not. */
export function spanAt({ outline }: FlatTop, axis: 0 | 1, value: number): [number, number] | null {
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0, j = outline.length - 2; i < outline.length; j = i, i += 2) {
    const a = outline[j + axis] - value;
    const b = outline[i + axis] - value;
    if (a > 0 === b > 0) continue;
    const other = outline[j + 1 - axis] + (a / (a - b)) * (outline[i + 1 - axis] - outline[j + 1 - axis]);
    least = Math.min(least, other);
    most = Math.max(most, other);
  }
  return least < most ? [least, most] : null;
}

/** Least and greatest u. */
export function extentOfTop({ outline }: FlatTop): [number, number] {
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < outline.length; i += 2) [least, most] = [Math.min(least, outline[i]), Math.max(most, outline[i])];
  return [least, most];
}
