import type { Extent } from './extent.js';

/** What a place must be to be a mark. Lengths in mm. */
export const ACCEPT = {
  /** Learned heights that rise to less are anatomy's own: set so that bare casts of the tuning range that the network was not taught on show 0.2 marks. */
  leastLearned: 0.38,
  /** Where the learned heights agree with less than this share of the depth it is another shape. */
  leastShare: 0.1,
  /** Deeper than this is no finger's work. */
  mostDepth: 10,
  /** Wider than this, or narrower, is no finger's work either. */
  widest: 40,
  slimmest: 4,
  /** A height of the other sign beside a mark, less than this share of its depth, is the mark's rim. */
  rimShare: 0.7,
} as const;

/** Whether the learned heights, a value a vertex, see what was measured. */
export function isAgreed({ vertices, depth }: Extent, learned: Float32Array, areas: Float64Array): boolean {
  let sum = 0;
  let area = 0;
  for (const v of vertices) {
    sum += areas[v] * learned[v];
    area += areas[v];
  }
  return Math.sign(depth) * sum > ACCEPT.leastShare * Math.abs(depth) * area;
}

/** Whether an extent has the size of a mark. */
export function isMarkSized({ depth, width }: Pick<Extent, 'depth' | 'width'>, leastDepth: number): boolean {
  return Math.abs(depth) >= leastDepth && Math.abs(depth) <= ACCEPT.mostDepth && width <= ACCEPT.widest && width >= ACCEPT.slimmest;
}
