import { denseCholesky, solveCholesky } from '@cast-to-last/geometry/numerics/dense-cholesky';
import type { CutStation } from './cut-course.js';
import { laidFlat } from './flap-step.js';
import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

/** Set on two filled gaps of generated casts, 6 and 8 mm broad, and on the seams and flaps of the tests: few to go by. */
export const RAISED_STRIP = {
  /** The section is looked at so far to both sides, mm, and its ground is what lies farther than this from the course. */
  half: 18,
  ground: 10,
  /** A strip is at least so high, between so many mm broad, and lies within so many of the course, mm. */
  height: 1.5,
  breadth: [2.5, 11],
  within: 8,
  /** Its top is flat: at 80 % of its height it is so many times as broad as at 20 %. A seam's ridge has 0.4. */
  flat: 0.48,
  /** The ground of both sides is level to this share of its height, or a flap rides there. */
  level: 0.5,
  /** Under the strip the ground goes from the one side's to the other's over so much to both sides of the course, mm. */
  under: 5,
  /** Over so many stations, and this share of the course, a strip must show. */
  stations: 16,
  share: 0.4,
} as const;

/** A strip of plaster that stands over both flaps of one station. */
export interface Strip {
  /** Sample of its middle. */
  readonly sample: number;
  /** mm */
  readonly width: number;
}

/**
 * The strip that plaster makes which filled a gap up to the bandage laid over it from outside: as high as the wall, flat
 * on top, with a face down to the flap on both sides. Each face alone looks like the edge of a flap that rides on the other.
 *
 * @returns for each station of the course its strip or null; null where there is none along the course
 */
export function raisedStrip(map: TopMap, course: readonly CutStation[]): (Strip | null)[] | null {
  const strips = course.map(({ station, sample }) => stripAt(map, station, sample));
  const shown = strips.filter((strip) => strip !== null).length;
  return shown >= Math.max(RAISED_STRIP.stations, RAISED_STRIP.share * course.length) ? strips : null;
}

function stripAt(map: TopMap, station: number, sample: number): Strip | null {
  const { half, height, breadth, within, flat, level, under } = RAISED_STRIP;
  const laid = laidFlat(map, station, sample, Math.round(half / TOP_MAP.step));
  if (laid === null) return null;
  const ground = groundOf(laid);
  if (ground === null) return null;
  const over = new Float64Array(laid.length / 2);
  let peak = -1;
  for (let i = 0; i < over.length; i++) {
    const x = laid[2 * i];
    over[i] = laid[2 * i + 1] - ground.height - ground.slope * x - ground.curve * x * x - ground.step * Math.max(-1, Math.min(1, x / under));
    if (Math.abs(x) <= within && (peak < 0 || over[i] > over[peak])) peak = i;
  }
  if (peak < 0 || over[peak] < height || Math.abs(ground.step) > level * over[peak]) return null;
  const [low, high] = runOver(over, peak, 0.5 * over[peak]);
  const width = (high - low) * TOP_MAP.step;
  if (width < breadth[0] || width > breadth[1]) return null;
  const top = runOver(over, peak, 0.8 * over[peak]);
  const foot = runOver(over, peak, 0.2 * over[peak]);
  if (top[1] - top[0] < flat * (foot[1] - foot[0])) return null;
  const middle = sample - Math.round(half / TOP_MAP.step) + Math.round((low + high) / 2);
  return middle < 0 || middle >= ACROSS ? null : { sample: middle, width };
}

/** Where the heights round a place fall to a level, in parts of samples. */
function runOver(over: Float64Array, peak: number, level: number): [number, number] {
  let low = peak;
  let high = peak;
  while (low > 0 && over[low - 1] > level) low--;
  while (high < over.length - 1 && over[high + 1] > level) high++;
  const before = low === 0 ? low : low - (over[low] - level) / (over[low] - over[low - 1]);
  const after = high === over.length - 1 ? high : high + (over[high] - level) / (over[high] - over[high + 1]);
  return [before, after];
}

/** Height, slope and curvature of what lies on both sides of the strip, and half of how much higher one stands than the other. */
interface Ground {
  readonly height: number;
  readonly slope: number;
  readonly curve: number;
  readonly step: number;
}

/** Least squares; null where they fix none. */
function groundOf(laid: Float64Array): Ground | null {
  const normal = new Float64Array(16);
  const right = new Float64Array(4);
  for (let i = 0; i < laid.length; i += 2) {
    const x = laid[i];
    if (Math.abs(x) < RAISED_STRIP.ground) continue;
    const row = [1, x, x * x, Math.sign(x)];
    for (let r = 0; r < 4; r++) {
      for (let c = 0; c < 4; c++) normal[4 * r + c] += row[r] * row[c];
      right[r] += row[r] * laid[i + 1];
    }
  }
  const factor = denseCholesky(normal, 4);
  if (factor === null) return null;
  const solved = solveCholesky(factor, right);
  return { height: solved[0], slope: solved[1], curve: solved[2], step: solved[3] };
}
