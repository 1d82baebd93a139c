/** How a cast was taken: everything that a phantom's position may be. Degrees and mm; what is left out is as it should be. */
export interface Position {
  /** The bed that the foot stood on: angle between its plates, front rising to the toes. */
  readonly bendDeg: number;
  /** Bed's hinge ahead of the inside ball point; of no meaning on a flat bed. */
  readonly hingeMm?: number;
  /** Foot's axis turned on the bed, toes outwards positive. */
  readonly yawDeg?: number;
  /** How deep the soft sole is pressed in by the plates. */
  readonly pressMm?: number;
  /** Moves the hinge until it lies as asked against the ball of the foot that stands on the bed, not of the flat one. */
  readonly exact?: boolean;
  /** Lean of the shank in the foot frame, top to the toes positive. */
  readonly leanInFrameDeg: number;
  /** Lean of the Achilles line, top towards the inner side positive. */
  readonly rearViewDeg: number;
  /** Roll of the front sole against the rear, inner edge up positive. */
  readonly twistDeg?: number;
  /** Heel seat tilted off the rear plate, heel up positive; the leans are then those against the plate. */
  readonly heelOnPlateDeg?: number;
  readonly sole?: SoleError;
  /** Breadth of the toe box as a share of the ball width, which the toes are squeezed to. */
  readonly toeBox?: number;
  /** The same as a share of what the foot has. */
  readonly toeBoxShare?: number;
  readonly fold?: Fold;
  /** What the scan lacks; the clean surface is whole. */
  readonly missing?: Missing;
}

export interface SoleError {
  /** Hammocked: edges higher than the middle all along. Rocking: the rear sole curved lengthwise. Uneven: waves of 45 to 80 mm. */
  readonly kind: 'hammocked' | 'rocking' | 'uneven';
  /** Hammocked: of the edges of the ball over its middle. Rocking: of the hinge over the middle of the rear sole. Uneven: 1.4 times its root mean square. */
  readonly heightMm: number;
}

/** Bandage beyond the toes, folded over or under them. */
export interface Fold {
  /** Ahead of the longest toe. */
  readonly lengthMm: number;
  readonly thicknessMm: number;
  readonly where: 'over' | 'under';
  /** Breadth as a share of the ball width. */
  readonly breadth: number;
}

export type Missing =
  /** The end of the cast, from this far behind the longest toe's tip. */
  | { readonly kind: 'toes'; readonly depthMm: number }
  /** A patch with this share of the whole surface. */
  | { readonly kind: 'patch'; readonly place: 'heel' | 'instep' | 'inner-side' | 'outer-side' | 'sole'; readonly share: number };

/** What the reference was brought to, round by round, before the cast was meshed: the plants of the warps. */
export interface Plants {
  readonly bendDeg: number;
  readonly hingeX: number;
  readonly leanDeg: number;
  readonly rearViewDeg: number;
  readonly twistDeg: number;
  readonly heelDeg: number;
  readonly toeBoxShare: number;
}
