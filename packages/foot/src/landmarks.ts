/** A point in the foot frame, mm. */
export type Point = readonly [number, number, number];

/** The points that the frame and the measures rest on, in the foot frame; null where the cast does not hold the point. */
export interface Landmarks {
  readonly footLength: number;
  readonly pternion: Point;
  readonly toeTip: Point;
  readonly heelCentre: Point;
  readonly ballCentre: Point;
  /** metatarsale tibiale */
  readonly medialBall: Point;
  /** metatarsale fibulare */
  readonly lateralBall: Point;
  readonly instep: Point | null;
  readonly waist: Point | null;
  /** Deepest point of the front ankle bend on the midline. */
  readonly crook: Point | null;
  /** Rearmost-lowest corner of the heel seat. */
  readonly heelCorner: Point;
}
