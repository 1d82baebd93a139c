import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CastOutcome } from '../outcome.js';
import { signedChange, standingScan } from './review-glb.js';

/** What is there of a cast once it is measured, settled foot frame: small enough to be handed to another thread. */
export interface CleanedSurfaces {
  /** The scan as uploaded. */
  readonly scan: Mesh;
  readonly cleaned: Mesh;
  /** How far smoothing moved each vertex of the cleaned cast, mm, outward positive. */
  readonly change: Float64Array;
}

export const cleanedSurfaces = (records: Pick<CastOutcome, 'scan' | 'aligned' | 'smoothed' | 'measured'>): CleanedSurfaces => ({
  scan: standingScan(records), cleaned: records.measured.mesh, change: signedChange(records),
});
