import { heightsRound } from './cross-shapes.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';

export const GAP_WIDTH = {
  /** The edges are sought within so many samples of where the lines were found. */
  within: 5,
  /** How far beside the edges the flaps are looked at, mm, and over what length the foot's own shape bends once more, mm. */
  beside: 9,
  footBends: 8,
  /** Length in which a lip fades away on the flap, mm: the sharp part of it, which tells the edge. */
  lipFades: 2,
} as const;

/**
 * The width of a gap at one station, mm: of all places of its two edges near those given the ones with which a foot, two
 * lips that fade away on the flaps and a strip that runs from lip to lip come nearest to the section.
 *
 * @param low sample of the edge on the −y side
 * @param high sample of the edge on the +y side
 * @returns null where the section is too short
 */
export function gapWidth(map: TopMap, station: number, low: number, high: number): number | null {
  const d = GAP_WIDTH;
  const middle = (low + high) >> 1;
  const half = Math.ceil((high - low) / 2) + d.beside / TOP_MAP.step;
  const heights = new Float64Array(2 * half + 1);
  if (!heightsRound(map, station, middle, heights)) return null;
  const degree = 3 + Math.round(((high - low) * TOP_MAP.step) / d.footBends);
  const foot = Array.from({ length: degree + 1 }, (_, k) => Float64Array.from(heights, (_h, i) => ((i - half) / half) ** k));
  const basis: Float64Array[] = [];
  for (const column of foot) addOrthonormal(basis, column);
  const rest = heights.slice();
  for (const q of basis) takeOff(rest, q);
  let best: number | null = null;
  let most = 0;
  for (let a = low - d.within; a <= low + d.within; a++) {
    for (let b = high - d.within; b <= high + d.within; b++) {
      if (b - a < 4) continue;
      const shapes: Float64Array[] = [];
      for (const feature of gapFeatures((a - middle) * TOP_MAP.step, (b - middle) * TOP_MAP.step)) {
        const column = Float64Array.from(heights, (_, i) => feature((i - half) * TOP_MAP.step));
        for (const q of basis) takeOff(column, q);
        addOrthonormal(shapes, column);
      }
      const explained = shapes.reduce((sum, q) => sum + dot(rest, q) ** 2, 0);
      if (explained <= most) continue;
      most = explained;
      best = (b - a) * TOP_MAP.step;
    }
  }
  return best;
}

/** The lips at both edges, each running out on its flap and straight to the other edge, and the bulge between. */
function gapFeatures(a: number, b: number): ((u: number) => number)[] {
  const share = (u: number): number => Math.max(0, Math.min(1, (u - a) / (b - a)));
  const { lipFades } = GAP_WIDTH;
  return [
    (u) => (u <= a ? Math.exp((u - a) / lipFades) : 1 - share(u)),
    (u) => (u >= b ? Math.exp((b - u) / lipFades) : share(u)),
    (u) => (u <= a || u >= b ? 0 : (4 * (u - a) * (b - u)) / (b - a) ** 2),
  ];
}

function addOrthonormal(to: Float64Array[], column: Float64Array): void {
  const rest = column.slice();
  for (let pass = 0; pass < 2; pass++) for (const q of to) takeOff(rest, q);
  const length = Math.hypot(...rest);
  if (length > 1e-9) to.push(rest.map((x) => x / length));
}

function takeOff(from: Float64Array, q: Float64Array): void {
  const along = dot(from, q);
  for (let i = 0; i < from.length; i++) from[i] -= along * q[i];
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
