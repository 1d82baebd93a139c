import { allCurves, girthInPlane, shortestGirth } from './girths.js';
import type { Wrapped } from './girths.js';
import type { Landmarks } from './landmarks.js';
import { highestAt } from './points.js';
import { acrossBall } from './ball-line.js';

/** The girths that a maker sets, mm; null where the section is open or the station has no surface. */
export interface LastGirths {
  readonly ball: number | null;
  readonly waist: number | null;
  readonly instep: number | null;
}

/**
 * Ball, waist and instep girth at the stations of the foot, by the definitions of the measures.
 *
 * @param stations landmarks in the frame of the surface
 */
export function lastGirths(surface: Wrapped, stations: Landmarks): LastGirths {
  const { lateralBall, instep, waist } = stations;
  const across = acrossBall(stations);
  const ball = girthInPlane(surface, lateralBall, [across.x, across.y, 0], [0, 0, 1], allCurves);
  const shortestAt = (x: number | undefined): number | null => {
    const top = x === undefined ? null : highestAt(surface, x);
    return top === null ? null : (shortestGirth(surface, top)?.girth.length ?? null);
  };
  return { ball: ball?.length ?? null, waist: shortestAt(waist?.[0]), instep: shortestAt(instep?.[0]) };
}
