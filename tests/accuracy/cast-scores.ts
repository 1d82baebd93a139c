import { identity, transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Phantom } from '../phantoms/make-phantom.js';
import { makePhantom } from '../phantoms/make-phantom.js';
import { runPipeline } from '../phantoms/scoring/run-pipeline.js';
import type { CastScore } from '../phantoms/scoring/score.js';
import { scoreCast } from '../phantoms/scoring/score.js';
import type { ErrorSums } from '../phantoms/scoring/score-surface.js';
import { scoreSurface } from '../phantoms/scoring/score-surface.js';
import type { Setting } from './whole-surface/filters.js';
import { smoothWhole } from './whole-surface/filters.js';

/** What whole-surface smoothing left on one cast. */
export interface WholeScore {
  readonly fingers: ErrorSums;
  readonly elsewhere: ErrorSums;
}

export interface BookCast {
  readonly seed: number;
  readonly family: string;
  readonly oddities: readonly string[];
  /** Why the program turned it away; null where it did not. */
  readonly refused: string | null;
  readonly score: CastScore | null;
  /** The best setting of whole-surface smoothing on the same scan. */
  readonly whole: WholeScore;
}

/** A seed whose foot cannot be drawn as one whole surface, or that the reference cannot stand on its sole. */
export interface NotMade {
  readonly seed: number;
  readonly notMade: string;
}

/** As in the other figures: every fifth cast bare, every second with 0.03 mm of scan noise. */
export function bookPhantom(seed: number, triangles: number): Phantom {
  const bare = seed % 5 === 0 ? { dents: 0, bumps: 0, ridges: 0, seam: false } : {};
  return makePhantom(seed, { triangles, ...bare, ...(seed % 2 === 0 ? { noise: 0.03 } : {}) });
}

/** The pipeline's score and that of whole-surface smoothing on one phantom. */
export async function bookCast(seed: number, triangles: number, setting: Setting): Promise<BookCast | NotMade> {
  let phantom: Phantom;
  try {
    phantom = bookPhantom(seed, triangles);
  } catch (error) {
    return { seed, notMade: (error as Error).message };
  }
  const outcome = await runPipeline(phantom, true);
  const { family, oddities } = phantom.made;
  return {
    seed, family, oddities,
    refused: 'refused' in outcome ? outcome.refused : null,
    score: 'refused' in outcome ? null : scoreCast(phantom, outcome.result),
    whole: scoreWhole(phantom, setting),
  };
}

/** One vertex in so many is looked at on surfaces smoothed as a whole. */
const LOOKED_AT = 7;

/** Smooths the scan, debris left out, and scores it by the truth's own frame: whole-surface smoothing has no alignment to err in. */
export function scoreWhole(phantom: Phantom, setting: Setting): WholeScore {
  const smoothed = smoothWhole(withoutDebris(phantom), setting);
  const { fingers, elsewhere } = scoreSurface(transformMesh(phantom.truth.transform, smoothed), phantom.truth, identity(), LOOKED_AT);
  return { fingers, elsewhere };
}

/** Triangles of the cast itself; vertex numbers stay. */
function withoutDebris({ scan, truth }: Phantom): Mesh {
  const triangles: number[] = [];
  for (let t = 0; t < scan.triangles.length; t += 3) {
    const corners = scan.triangles.subarray(t, t + 3);
    if (corners.every((v) => !Number.isNaN(truth.cleanPositions[3 * v]))) triangles.push(...corners);
  }
  return { positions: scan.positions, triangles: Uint32Array.from(triangles) };
}

