import type { FrameLandmarks } from './frame.js';
import { frameLandmarks } from './frame.js';
import type { Wrapped } from './girths.js';
import type { Landmarks } from './landmarks.js';
import { INSTEP_STATION, crookOfAnkle, heelCorner, highestAt, midlineProfile } from './points.js';
import type { Side } from './side.js';

/** The points that measures rest on, without the measures; null where the surface holds no heel or ball. */
export function findLandmarks(surface: Wrapped, side: Side, wholeTo: number): Landmarks | null {
  const frame = frameLandmarks(surface.mesh, surface.twin, side);
  return frame === null ? null : landmarksFrom(frame, surface, wholeTo);
}

/** The points that measures rest on, from those that the frame rests on. */
export function landmarksFrom(frame: FrameLandmarks, surface: Wrapped, wholeTo: number): Landmarks {
  const { footLength } = frame;
  const instep = highestAt(surface, INSTEP_STATION * footLength);
  const waist = instep === null ? null : highestAt(surface, (instep[0] + frame.ballCentre[0]) / 2);
  const profiles = midlineProfile(surface);
  return {
    footLength,
    pternion: frame.pternion,
    toeTip: frame.toeTip,
    heelCentre: [frame.heelCentre[0], frame.heelCentre[1], 0],
    ballCentre: [frame.ballCentre[0], frame.ballCentre[1], 0],
    medialBall: frame.medialBall,
    lateralBall: frame.lateralBall,
    instep,
    waist,
    crook: instep === null ? null : crookOfAnkle(profiles, instep, footLength, wholeTo),
    heelCorner: heelCorner(profiles) ?? [0, 0, 0],
  };
}
