import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

export const FLAP_STEP = {
  /** The flaps are looked at from so far to so far beside the cut, mm: beyond its face, where a step has hardly come back to its place. */
  beside: [1.5, 8],
} as const;

/**
 * How much higher the surface stands on the +y side of the cut than on the other, mm: the difference of the heights over
 * the cut that both flaps ask for, straight lines with one curvature for both.
 *
 * @returns null where the section is too short
 */
export function flapStep(map: TopMap, station: number, sample: number): number | null {
  const [from, to] = FLAP_STEP.beside;
  // The face of a step takes its own length of the section.
  const half = Math.ceil((to + 5) / TOP_MAP.step);
  const flat = laidFlat(map, station, sample, half);
  if (flat === null) return null;
  // Unknowns: height and slope of the −y flap, height and slope of the other, curvature of both.
  const normal = Array.from({ length: 5 }, () => new Float64Array(6));
  for (let i = 0; i < flat.length; i += 2) {
    const x = flat[i];
    const h = flat[i + 1];
    if (Math.abs(x) < from || Math.abs(x) > to) continue;
    const row = x < 0 ? [1, x, 0, 0, x * x] : [0, 0, 1, x, x * x];
    for (let r = 0; r < 5; r++) {
      for (let c = 0; c < 5; c++) normal[r][c] += row[r] * row[c];
      normal[r][5] += row[r] * h;
    }
  }
  for (let r = 0; r < 5; r++) {
    if (!(normal[r][r] > 1e-9)) return null;
    for (let other = 0; other < 5; other++) {
      if (other === r) continue;
      const share = normal[other][r] / normal[r][r];
      for (let c = r; c < 6; c++) normal[other][c] -= share * normal[r][c];
    }
  }
  return normal[2][5] / normal[2][2] - normal[0][5] / normal[0][0];
}

/** Place along its own chord and height over it of each sample within `half` of one; null where the section is too short. */
export function laidFlat({ points: p, along }: TopMap, station: number, sample: number, half: number): Float64Array | null {
  const index = (j: number): number => 3 * (station * ACROSS + j);
  const low = sample - half;
  const high = sample + half;
  if (low < 0 || high >= ACROSS || Number.isNaN(p[index(low)]) || Number.isNaN(p[index(high)])) return null;
  const chord = [0, 1, 2].map((k) => p[index(high) + k] - p[index(low) + k]);
  const length = Math.hypot(...chord);
  const [tx, ty, tz] = chord.map((c) => c / length);
  const ax = along[3 * station];
  const az = along[3 * station + 2];
  const nx = ty * az;
  const ny = tz * ax - tx * az;
  const nz = -ty * ax;
  const c = index(sample);
  const flat = new Float64Array(2 * (2 * half + 1));
  for (let j = low, i = 0; j <= high; j++, i += 2) {
    const x = p[index(j)] - p[c];
    const y = p[index(j) + 1] - p[c + 1];
    const z = p[index(j) + 2] - p[c + 2];
    flat[i] = tx * x + ty * y + tz * z;
    flat[i + 1] = nx * x + ny * y + nz * z;
  }
  return flat;
}
