import { TOP_MAP } from './top-map.js';

export const CARRY_ON = {
  /** Widths are evened over so many stations to both sides. */
  evened: 3,
  /** Towards the toes, where a cut begins, and towards the top a gap that no longer shows narrows at this rate, mm to the mm. */
  front: 0.5,
  top: 0.12,
} as const;

/**
 * Widths of a gap along its course, evened; from where it shows by itself it is carried on over the stations where it is
 * too faint or too narrow to be told from a seam: straight from one part to the next, and narrowing at both ends.
 *
 * @param widths mm from the toe base up; 0 where no gap shows
 */
export function carryOn(widths: readonly number[]): number[] {
  const out = widths.map((width, i) => {
    if (width === 0) return 0;
    const near = widths.slice(Math.max(0, i - CARRY_ON.evened), i + CARRY_ON.evened + 1).filter((other) => other > 0);
    return near.reduce((sum, x) => sum + x, 0) / near.length;
  });
  const shown = widths.flatMap((width, i) => (width > 0 ? [i] : []));
  if (shown.length === 0) return out;
  shown.slice(1).forEach((next, k) => {
    const last = shown[k];
    for (let i = last + 1; i < next; i++) out[i] = out[last] + ((i - last) / (next - last)) * (out[next] - out[last]);
  });
  const first = shown[0];
  const last = shown[shown.length - 1];
  for (let i = 0; i < first; i++) out[i] = Math.max(0, out[first] - CARRY_ON.front * TOP_MAP.station * (first - i));
  for (let i = last + 1; i < out.length; i++) out[i] = Math.max(0, out[last] - CARRY_ON.top * TOP_MAP.station * (i - last));
  return out;
}
