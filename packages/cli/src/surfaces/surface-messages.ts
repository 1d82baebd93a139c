import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SolidProblem } from '@cast-to-last/geometry/solids/solid';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import type { CleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';

/** What the thread is told, in this order. It answers what it is asked to weigh, says the files, each with its digest, and ends. */
export type ToSurfaceThread =
  | { readonly kind: 'cleaned'; readonly surfaces: CleanedSurfaces }
  | { readonly kind: 'weigh'; readonly mesh: Mesh }
  | { readonly kind: 'last'; readonly mesh: Mesh };

export type FromSurfaceThread =
  | { readonly kind: 'volume'; readonly volume: number }
  | { readonly kind: 'no-solid'; readonly code: SolidProblem; readonly problem: string }
  | { readonly kind: 'files'; readonly files: readonly CastFile[] };
