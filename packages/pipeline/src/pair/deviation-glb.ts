import { writeGlb } from '@cast-to-last/geometry/formats/glb';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { changeColours, changeRange } from '@cast-to-last/sheet/paper/change-colours';
import type { CastComparison } from './compare-casts.js';
import { mapFigures } from './map-figures.js';

/** Where the second cast has nothing to compare with. */
const NO_COUNTERPART = [150, 150, 150];

/**
 * deviation.glb: the first cast laid on the second, coloured by how far it stands off, and the second. The numbers, by region
 * and overall, are extras of the first node.
 */
export function deviationGlb({ laid, map, registration }: CastComparison, second: Mesh): Uint8Array {
  const known = map.deviation.filter((d) => !Number.isNaN(d));
  const rangeMm = changeRange(known);
  const colours = changeColours(map.deviation.map((d) => (Number.isNaN(d) ? 0 : d)), rangeMm);
  for (let v = 0; v < map.deviation.length; v++) if (Number.isNaN(map.deviation[v])) colours.set(NO_COUNTERPART, 3 * v);
  return writeGlb([
    { name: 'first', mesh: laid, colours, extras: { deviation: 'of the first cast from the second, outside positive; grey: nothing to compare with', mirrored: registration.mirrored, rangeMm, ...mapFigures(map) } },
    { name: 'second', mesh: second, baseColour: [196, 190, 180] },
  ]);
}
