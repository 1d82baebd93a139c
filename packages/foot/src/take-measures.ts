import { landmarksFrom } from './find-landmarks.js';
import { lastLandmarks } from './last-landmarks.js';
import { frameLandmarks } from './frame.js';
import type { Wrapped } from './girths.js';
import type { Landmarks } from './landmarks.js';
import type { Measurement } from './measures.js';
import type { TakeOptions } from './measure-taker.js';
import { MeasureTaker } from './measure-taker.js';

export interface MeasuredFoot {
  readonly landmarks: Landmarks;
  readonly measurements: Measurement[];
}

/**
 * Takes every measure of a surface that stands in its foot frame.
 *
 * @returns null where the surface holds no heel or ball
 */
export function takeMeasures(surface: Wrapped, options: TakeOptions): MeasuredFoot | null {
  const frame = frameLandmarks(surface.mesh, surface.twin, options.side);
  if (frame === null) return null;
  const landmarks = landmarksFrom(frame, surface, options.wholeTo);
  return { landmarks, measurements: new MeasureTaker(surface, options, frame, landmarks).all() };
}

/**
 * Takes every measure of a last at the stations of the foot that it was made from. A last is longer than its foot and its
 * toes are another shape: its own fractions of length are other places.
 *
 * @param stations the foot's landmarks, in the frame of the surface
 * @returns null where the surface holds nothing at the heel's or the ball's station
 */
export function takeLastMeasures(surface: Wrapped, stations: Landmarks, options: TakeOptions): Measurement[] | null {
  const found = lastLandmarks(surface, stations, options.wholeTo);
  return found === null ? null : new MeasureTaker(surface, options, found.frame, found.landmarks, found).all();
}
