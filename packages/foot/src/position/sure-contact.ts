import type { Plane } from '../rest-plane.js';
import { CONTACT, heightOver } from './contact-plane.js';
import type { StandingCast } from './standing-cast.js';

/** Surface that cannot be leaned on counts as resting on a plane up to this distance, mm: a fill does not lie as true. */
const NEAR = 2;

/**
 * Share (0 to 1) of what rests on a plane between two places along the foot that can be leaned on; 1 where nothing rests there.
 *
 * @param from x in the foot frame, mm
 */
export function sureContact(cast: StandingCast, plane: Plane, from: number, to: number): number {
  const { mesh: { positions: p }, normals, areas, unsure, landmarks } = cast;
  const ceiling = landmarks.footLength / 4;
  const length = Math.sqrt(plane.a * plane.a + plane.b * plane.b + 1);
  let sure = 0;
  let doubtful = 0;
  for (let v = 0; v < areas.length; v++) {
    const i = 3 * v;
    if (p[i] < from || p[i] > to || p[i + 2] > ceiling) continue;
    if (normals[i + 2] - plane.a * normals[i] - plane.b * normals[i + 1] > -CONTACT.facing * length) continue;
    const over = Math.abs(heightOver(cast, plane, v));
    if (unsure[v] === 1 && over <= NEAR) doubtful += areas[v];
    else if (unsure[v] === 0 && over <= CONTACT.within) sure += areas[v];
  }
  return sure + doubtful === 0 ? 1 : sure / (sure + doubtful);
}
