import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import type { CleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';

/** What the thread is told, in this order; it then says the files, each with its digest, and ends. */
export type ToSurfaceThread = { readonly kind: 'cleaned'; readonly surfaces: CleanedSurfaces } | { readonly kind: 'last'; readonly mesh: Mesh };

export type FromSurfaceThread = readonly CastFile[];
