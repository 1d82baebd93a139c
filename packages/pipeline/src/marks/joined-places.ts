import type { Surroundings } from './fair-surface.js';
import type { InspectionSurface } from './inspection-surface.js';

/**
 * The seeds and what is joined to them, from neighbour to neighbour, by wanted places of a piece of surface.
 *
 * @param place one entry a coarse vertex, −1 throughout; left so
 */
export function joinedPlaces(
  { neighbours: { offsets, items } }: InspectionSurface,
  { vertices }: Pick<Surroundings, 'vertices'>,
  seeds: readonly number[],
  wanted: (i: number) => boolean,
  place: Int32Array,
): number[] {
  for (let i = 0; i < vertices.length; i++) place[vertices[i]] = i;
  const seen = new Uint8Array(vertices.length);
  const region = [...seeds];
  for (const i of seeds) seen[i] = 1;
  for (let head = 0; head < region.length; head++) {
    const v = vertices[region[head]];
    for (let j = offsets[v]; j < offsets[v + 1]; j++) {
      const i = place[items[j]];
      if (i < 0 || seen[i] === 1 || !wanted(i)) continue;
      seen[i] = 1;
      region.push(i);
    }
  }
  for (const v of vertices) place[v] = -1;
  return region;
}
