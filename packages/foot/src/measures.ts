import type { Point } from './landmarks.js';

/** The ids and words of the measures; one place for both. */
export const MEASURE_LABELS = {
  'foot-length': 'foot length',
  'medial-ball-length': 'heel to inside ball',
  'lateral-ball-length': 'heel to outside ball',
  'ball-girth': 'ball girth',
  'ball-width': 'ball width',
  'ball-angle': 'ball angle',
  'foot-breadth': 'breadth',
  'heel-width': 'heel width',
  'instep-height': 'instep height',
  'instep-girth': 'instep girth',
  'waist-girth': 'waist girth',
  'short-heel-girth': 'short heel girth',
  'long-heel-girth': 'long heel girth',
  'ankle-girth': 'ankle girth',
  'toe-height': 'toe height',
  'arch-height': 'arch height',
} as const;

export type MeasureId = keyof typeof MEASURE_LABELS;

/** A closed tape line on the surface: x, y, z of its points in the foot frame, mm. */
export type TapeLine = Float64Array;

export type MeasureEnds = readonly [Point, Point];

export interface TakenMeasurement {
  readonly id: MeasureId;
  readonly label: string;
  readonly value: number;
  readonly unit: 'mm' | 'deg';
  /** Half-width of a 95 % interval from scan noise and landmark slide, in `unit`. */
  readonly uncertainty: number;
  readonly on: 'cast' | 'last';
  /** Share (0 to 1) of the line or points that lies on surface which repair made up. */
  readonly onFilled: number;
  /** The tape line of a girth, for drawings; absent for lengths, widths and angles. */
  readonly tape?: TapeLine;
  /** The two places that a length, width or height lies between, foot frame: it is what they are apart along its own direction. For drawings; absent for girths and angles. */
  readonly ends?: MeasureEnds;
}

export interface AbsentMeasurement {
  readonly id: MeasureId;
  readonly label: string;
  readonly on: 'cast' | 'last';
  /** One sentence: why it could not be taken. */
  readonly absent: string;
}

export type Measurement = TakenMeasurement | AbsentMeasurement;

export const isTaken = (m: Measurement): m is TakenMeasurement => 'value' in m;
