import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { tangentLine } from './corner.js';
import { edgeSection } from './edge-sections.js';
import type { SoleMap } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';
import { blurredRound } from './sole-outline.js';

/** Standard deviation of the blur along the line, mm. */
const BLUR = 2;

/**
 * The line along which the surface turns half-way from facing the floor to facing sideways, at the samples of an outline that
 * runs near it.
 *
 * @param rim the surface round the edge
 * @param twin its halfedge twins
 * @returns x, y, z of the points, a closed line run through as the outline is
 */
export function edgeLine(rim: Mesh, twin: Int32Array, outline: SoleOutline, map: SoleMap): Float64Array {
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
