import type { Added, Feature, GapWindow } from './section-shapes.js';
import { addedBy, lineFeatures } from './section-shapes.js';
import { TOP_MAP } from './top-map.js';

export const TWO_EDGES = {
  /** The lips that an edge may have. */
  lips: [[1.5, 1], [3.5, 1], [2.5, 2]],
  /** Half widths of a single line of any shape, mm. */
  anyLine: [1.8, 2.8],
  /** How steep a single step is and how slowly its flap comes back to its place, mm; half width of the seam at it, mm. */
  stepEdge: 1,
  stepBack: 12,
  stepSeam: 2,
} as const;

/**
 * What a gap adds, for each pair of lips that it may have: the lips, each running out on its flap and straight to the other
 * edge, and the bulge between.
 *
 * @param low and high: the edges, samples from the window's middle
 */
export function gapShapes(window: GapWindow, low: number, high: number): Added[] {
  const a = low * TOP_MAP.step;
  const b = high * TOP_MAP.step;
  const shapes: Added[] = [];
  for (const left of TWO_EDGES.lips) for (const right of TWO_EDGES.lips) shapes.push(addedBy(window, gapFeatures(a, b, left, right)));
  return shapes;
}

/** How a lip fades away on its flap: over what length, mm, and how roundly (1 from a kink, 2 without one). */
export type Lip = readonly [fades: number, power: number];

/** The lips at two edges, mm from the window's middle, each running out on its flap and straight to the other edge, and the bulge between. */
export function gapFeatures(a: number, b: number, left: Lip, right: Lip): Feature[] {
  const share = (u: number): number => (u - a) / (b - a);
  return [
    (u) => (u <= a ? lip(left, a - u) : Math.max(0, 1 - share(u))),
    (u) => (u >= b ? lip(right, u - b) : Math.max(0, share(u))),
    (u) => (u <= a || u >= b ? 0 : share(u) * (1 - share(u))),
  ];
}

const lip = ([fades, power]: Lip, out: number): number => Math.exp(-((out / fades) ** power));

/** What a single line of any shape at a sample from the window's middle adds: whatever has died away after twice its half width. */
export const lineShapes = (window: GapWindow, sample: number): Added[] => TWO_EDGES.anyLine.map((half) => addedBy(window, lineFeatures(sample, half, 4)));

/** What a single step with a seam at it adds. */
export function stepShape(window: GapWindow, sample: number): Added {
  const { stepEdge, stepBack, stepSeam } = TWO_EDGES;
  const c = sample * TOP_MAP.step;
  const flap = (u: number): number => 0.5 * (1 + Math.tanh(u / stepEdge)) * (u > 0 ? Math.exp(-u / stepBack) : 1);
  return addedBy(window, [(u) => flap(u - c), (u) => flap(c - u), ...lineFeatures(sample, stepSeam, 2)]);
}
