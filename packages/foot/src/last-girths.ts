import { allCurves, girthInPlane, shortestGirth } from './girths.js';
import type { Girth, Wrapped } from './girths.js';
import type { Landmarks, Point } from './landmarks.js';
import { highestAt } from './points.js';
import { acrossBall } from './ball-line.js';

/** The girths that a maker sets, mm; null where the section is open or the station has no surface. */
export interface LastGirths {
  readonly ball: number | null;
  readonly waist: number | null;
  readonly instep: number | null;
}

/** The shortest tape over a station's highest point, and its tilt, radians. */
export interface StationTape {
  readonly top: Point;
  readonly girth: Girth;
  readonly tilt: number;
}

/** The tapes of these girths. */
export interface LastTapes {
  readonly ball: Girth | null;
  readonly waist: StationTape | null;
  readonly instep: StationTape | null;
}

/**
 * The tapes round ball, waist and instep at the stations of the foot, by the definitions of the measures.
 *
 * @param stations landmarks in the frame of the surface
 * @param near where given, tapes are sought from the tilts of these on, and are the shortest of those near to them
 */
export function lastTapes(surface: Wrapped, stations: Landmarks, near?: LastTapes): LastTapes {
  const { lateralBall, instep, waist } = stations;
  const across = acrossBall(stations);
  const ball = girthInPlane(surface, lateralBall, [across.x, across.y, 0], [0, 0, 1], allCurves);
  const shortestAt = (station: Point | null, before: StationTape | null | undefined): StationTape | null => {
    const top = station === null ? null : highestAt(surface, station[0]);
    const found = top === null ? null : shortestGirth(surface, top, before?.tilt);
    return top === null || found === null ? null : { top, ...found };
  };
  return { ball, waist: shortestAt(waist, near?.waist), instep: shortestAt(instep, near?.instep) };
}

export const girthsOf = ({ ball, waist, instep }: LastTapes): LastGirths =>
  ({ ball: ball?.length ?? null, waist: waist?.girth.length ?? null, instep: instep?.girth.length ?? null });

/** Ball, waist and instep girth at the stations of the foot, by the definitions of the measures. */
export const lastGirths = (surface: Wrapped, stations: Landmarks): LastGirths => girthsOf(lastTapes(surface, stations));
