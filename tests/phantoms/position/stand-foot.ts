import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { TopCut } from '../build-cast.js';
import { trim, type Below } from '../surface/build-surface.js';
import type { Field } from '../surface/implicit.js';
import { meshField } from '../surface/mesh-field.js';
import type { Random } from '../random.js';
import { flatFoot, placeFoot, type PlacedFoot } from './place-foot.js';
import type { Plants, Position } from './position.js';
import { inFlat, settlePlants } from './settle-plants.js';

/** A drawn foot that fits in `room`. */
export interface DrawnFoot {
  readonly drawn: Field;
  /** Without what the family puts over the toes. */
  readonly bare: Field;
  readonly room: Float64Array;
}

/** A foot in its position, as it is meshed. */
export interface StoodFoot {
  readonly field: Field;
  readonly bare: Field;
  readonly below: Below;
  readonly cap: Field | null;
  readonly room: Float64Array;
  readonly plants: Plants;
  readonly hinge: PlacedFoot['hinge'];
}

/** Puts a drawn foot in the position asked for; the upper edge of the cast goes with the leg. */
export function standFoot({ drawn, bare, room }: DrawnFoot, cut: TopCut, position: Position, random: Random): StoodFoot {
  const foot = flatFoot(drawn, bare, room, 4.5);
  // A leg that leans and a fold before the toes need more room than a foot as it was drawn.
  const wide = Float64Array.from([room[0] - 95, room[1] - 35, room[2] - 10, room[3] + 60, room[4] + 35, room[5] + 12]);
  const belowFlat: Below = cut.cap ? (x, y, z) => (cut.cap as Field)(x, y, z) < 0 : cut.below;
  const plants = settlePlants(foot, position, wide, belowFlat, random);
  const placed = placeFoot(foot, position, plants, random);
  const below = inFlat(placed.toFlat, belowFlat);
  const box = bounds(trim(meshField(placed.field, wide, 7), (x, y, z) => below(x, y, z - 12)).positions);
  const tight = Float64Array.from(wide, (c, k) => (k < 3 ? Math.max(c, box[k] - 9) : Math.min(c, box[k] + 9)));
  return {
    field: placed.field,
    bare: placed.bare,
    below: cut.cap ? () => true : below,
    cap: cut.cap && inFlat(placed.toFlat, cut.cap),
    room: tight,
    plants,
    hinge: placed.hinge,
  };
}
