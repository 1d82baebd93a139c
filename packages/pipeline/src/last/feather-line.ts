import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { twins } from '@cast-to-last/geometry/topology';
import { tangentLine } from './sole/corner.js';
import { edgeSection } from './sole/edge-sections.js';
import { OutlineIndex } from './sole/outline-index.js';
import { rimMesh } from './sole/rim-mesh.js';
import { soleMap } from './sole/sole-map.js';
import { blurredRound, soleOutline } from './sole/sole-outline.js';
import { REACH } from './sole/sole-reading.js';

/** Standard deviation of the blur along the line, mm. */
const BLUR = 2;

/**
 * The feather line, the edge between sole and upper: where the surface turns half-way from facing the floor to facing
 * sideways. On a foot that is round there it is the middle of the rounding, on a last the middle of the edge.
 *
 * @returns x, y, z of its points, about 2 mm apart, in the body's frame, counter-clockwise seen from above; the last leads
 * back to the first. Empty where the body has no sole.
 */
export function featherLine({ mesh, landmarks }: { readonly mesh: Mesh; readonly landmarks: Pick<Landmarks, 'footLength'> }): Float64Array {
  const map = soleMap(mesh, landmarks);
  const outline = soleOutline(map);
  if (outline === null) return new Float64Array(0);
  const rim = rimMesh(mesh, new OutlineIndex(outline, REACH), landmarks.footLength);
  const twin = twins(rim);
  const places: { readonly sample: number; readonly out: number; readonly up: number }[] = [];
  for (let sample = 0; sample < outline.count; sample++) {
    const edge = edgeSection(rim, twin, outline, map, sample);
    if (edge === null) continue;
    const { at } = tangentLine(edge, Math.PI / 4);
    places.push({ sample, out: edge.out[at], up: edge.up[at] });
  }
  const sigma = BLUR / outline.step;
  const out = blurredRound(Float64Array.from(places, (place) => place.out), sigma);
  const up = blurredRound(Float64Array.from(places, (place) => place.up), sigma);
  const line = new Float64Array(3 * places.length);
  places.forEach(({ sample }, i) => {
    for (let k = 0; k < 2; k++) line[3 * i + k] = outline.points[2 * sample + k] + out[i] * outline.outward[2 * sample + k];
    line[3 * i + 2] = up[i];
  });
  return line;
}
