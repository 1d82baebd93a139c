import type { GlbNode } from '@cast-to-last/geometry/formats/glb';
import { writeGlb } from '@cast-to-last/geometry/formats/glb';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { changeColours, changeRange } from './change-colours.js';

/** What the review model shows. Meshes in mm in the same frame, z up. */
export interface ReviewModel {
  /** The scan as uploaded. */
  readonly scan: Mesh;
  /** The cleaned cast. */
  readonly cleaned: Mesh;
  /** Signed change of each vertex of the cleaned cast, mm, positive outward; length = vertices. */
  readonly change: Float64Array;
}

const SCAN_GREY = [186, 188, 190] as const;

/** Draws the review model as binary glTF: nodes "scan" (grey) and "cleaned" (coloured by change, legend in its extras). */
export function drawReviewModel({ scan, cleaned, change }: ReviewModel): Uint8Array {
  const range = changeRange(change);
  const nodes: GlbNode[] = [
    { name: 'scan', mesh: scan, baseColour: SCAN_GREY },
    { name: 'cleaned', mesh: cleaned, colours: changeColours(change, range), extras: { change: { unit: 'mm', min: -range, max: range, positive: 'outward' } } },
  ];
  return writeGlb(nodes);
}
