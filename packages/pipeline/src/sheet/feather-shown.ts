import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { featherLine } from '../last/feather-line.js';

interface Named {
  readonly id: string;
}

/** A measure of a report or of a stage. */
type Valued = Named & { readonly on: 'cast' | 'last' } & ({ readonly value: number } | { readonly absent: string });

/**
 * The feather line of a last whose edge was made crisp, as its changes tell.
 *
 * @returns x, y, z of its points, closed; empty where the rules asked for none, or where none is found
 */
export function featherShown(last: Mesh, changes: readonly Named[], measurements: readonly Valued[]): Float64Array {
  const length = measurements.find((m) => m.id === 'foot-length' && m.on === 'last');
  if (length === undefined || !('value' in length) || !changes.some((c) => c.id === 'feather-radius')) return new Float64Array(0);
  return featherLine({ mesh: last, landmarks: { footLength: length.value } });
}
