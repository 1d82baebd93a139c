import type { SoleRules } from '../rules/last-rules.js';
import type { LastBody, LastStep } from './last-body.js';
import { crispEdge } from './sole/crisp-edge.js';
import { evenSole } from './sole/even-sole.js';
import { readSole } from './sole/sole-reading.js';

/**
 * Makes the sole of the last from that of the foot.
 *
 * `fair`: what is smaller than the foot's shape, texture and the traces of marks, is taken off the sole; its edge stays.
 * `flat`: fair, and on tread and heel seat straight across: each line across lies so that the foot stands on it and is not
 * cut; the waist keeps its curve, and the arch with it. Under toes that are not level the sole stays as it is.
 * `featherRadiusMm`: the edge between sole and upper made crisp. Material is put into the corner between the lines of sole
 * and side up to a fillet of that radius; the foot is not cut, so a place that is sharper than that stays so. Toes that are
 * not level keep their edges, with a warning. Vertices are added along the edge; those of the body come first.
 *
 * @returns changes: `sole-unevenness` of a fair sole or `sole-across` of a flat one (mm, root mean square off the sole asked
 * for), `sole-moved` (mm, the farthest that the sole was moved), `feather-radius` (mm, median over tread and heel seat) and
 * `feather-added` (mm, the most that the edge was built up)
 */
export function shapeSole(body: LastBody, { shape, featherRadiusMm: radius }: SoleRules): LastStep {
  if (shape === 'as-cast' && radius === null) return { body, changes: [], warnings: [] };
  const reading = readSole(body);
  if (reading === null) return { body, changes: [], warnings: ['The body shows no sole: it stays as it was cast.'] };
  const even = shape === 'as-cast' ? { body, changes: [], warnings: [], flat: null } : evenSole(body, reading, shape === 'flat');
  if (radius === null) return { body: even.body, changes: even.changes, warnings: even.warnings };
  const crisp = crispEdge(even.body, reading, even.flat, radius);
  return { body: crisp.body, changes: [...even.changes, ...crisp.changes], warnings: [...even.warnings, ...crisp.warnings] };
}
