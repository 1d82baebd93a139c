import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import { breadthBelow } from './breadth-below.js';
import type { FrameLandmarks } from './frame.js';
import { FRAME } from './frame.js';
import type { Wrapped } from './girths.js';
import type { Landmarks, Point } from './landmarks.js';
import { crookOfAnkle, heelCorner, highestAt, midlineProfile } from './points.js';
import { acrossBall } from './ball-line.js';

/** The points of a last at its foot's stations. */
export interface LastLandmarks {
  /** Stations are shares of its foot length, which is the foot's. */
  readonly frame: FrameLandmarks;
  readonly landmarks: Landmarks;
  /** Of the last itself along x, mm. */
  readonly length: number;
}

/**
 * Finds on a last the points that its measures rest on, where the foot has them: ball points in the plane of the foot's ball,
 * instep and waist over the foot's stations.
 *
 * @param stations the foot's landmarks, in the frame of the surface
 * @returns null where nothing is there at the heel's or the ball's station
 */
export function lastLandmarks(surface: Wrapped, stations: Landmarks, wholeTo: number): LastLandmarks | null {
  const { positions: p } = surface.mesh;
  const { footLength, pternion, heelCentre } = stations;
  let front = -1;
  let back = -1;
  const ceiling = FRAME.pternionCeiling * footLength;
  for (let i = 0; i < p.length; i += 3) {
    if (front < 0 || p[i] > p[front]) front = i;
    if (p[i + 2] <= ceiling && (back < 0 || p[i] < p[back])) back = i;
  }
  if (front < 0 || back < 0) return null;
  const heel = breadthBelow(section(surface.mesh, surface.twin, [1, 0, 0], pternion[0] + FRAME.heelSection * footLength), FRAME.heelCeiling * footLength);
  const ball = ballPoints(surface, stations);
  if (heel === null || ball === null) return null;
  const at = (i: number): Point => [p[i], p[i + 1], p[i + 2]];
  const instep = stations.instep === null ? null : highestAt(surface, stations.instep[0]);
  const waist = stations.waist === null ? null : highestAt(surface, stations.waist[0]);
  const profiles = midlineProfile(surface);
  const points = {
    footLength, pternion: at(back), toeTip: at(front), medialBall: ball[0], lateralBall: ball[1],
    heelCentre: [heelCentre[0], (heel[0] + heel[1]) / 2, 0], ballCentre: [(ball[0][0] + ball[1][0]) / 2, (ball[0][1] + ball[1][1]) / 2, 0],
  } as const;
  return {
    frame: { ...points, heelWidth: heel[1] - heel[0] },
    landmarks: {
      ...points, instep, waist,
      crook: instep === null ? null : crookOfAnkle(profiles, instep, footLength, wholeTo),
      heelCorner: heelCorner(profiles) ?? stations.heelCorner,
    },
    length: p[front] - p[back],
  };
}

/** The last's outermost points, inner and outer side, in the upright plane through the foot's ball points; null where no section is there. */
function ballPoints(surface: Wrapped, stations: Landmarks): [Point, Point] | null {
  const { medialBall: a } = stations;
  const { x, y } = acrossBall(stations);
  const across = [x, y];
  const normal = [across[1], -across[0], 0];
  const curves = section(surface.mesh, surface.twin, normal, normal[0] * a[0] + normal[1] * a[1]);
  const medial = furthest(curves, across, 1);
  const lateral = furthest(curves, across, -1);
  return medial === null || lateral === null ? null : [medial, lateral];
}

function furthest(curves: readonly SectionCurve[], [x, y]: readonly number[], sign: number): Point | null {
  let best: Point | null = null;
  let most = -Infinity;
  for (const { points } of curves) {
    for (let i = 0; i < points.length; i += 3) {
      const out = sign * (x * points[i] + y * points[i + 1]);
      if (out > most) {
        most = out;
        best = [points[i], points[i + 1], points[i + 2]];
      }
    }
  }
  return best;
}
