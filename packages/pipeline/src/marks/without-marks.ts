import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { FoundMark } from './found-mark.js';
import type { InspectionSurface } from './inspection-surface.js';
import { isDot } from './found-mark.js';
import { mend } from './mend.js';

/** What of a mark says where it lies and how far it reaches. */
type Marked = Pick<FoundMark, 'kind' | 'vertices' | 'centreVertex' | 'margin'>;

/**
 * The inspection surface as it is once marks are smoothed, vertex by vertex.
 *
 * @param steerless marks that steer nothing; these and more
 */
export function withoutMarks(surface: InspectionSurface, marks: readonly Marked[], steerless: readonly Marked[] = marks): InspectionSurface {
  const masked = new Uint8Array(surface.areas.length);
  for (const mark of steerless) for (const v of mark.vertices) masked[v] = 1;
  const patches = marks.map((mark) => ({ vertices: mark.vertices, centre: mark.centreVertex, margin: mark.margin, isLearned: isDot(mark) }));
  const own = { ...surface, cellOf: Uint32Array.from(surface.areas.keys()) };
  const { mesh } = mend(surface.mesh, own, patches, masked, new Uint8Array(surface.areas.length));
  return { ...surface, mesh, normals: vertexNormals(mesh) };
}
