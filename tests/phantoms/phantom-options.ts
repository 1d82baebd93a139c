import type { Side } from '@cast-to-last/foot/side';
import type { Oddity } from './foot/foot-parameters.js';
import type { Position } from './position/position.js';
import type { Region } from './truth.js';

export type Family = 'bones' | 'sections' | 'blunt';

/** What a phantom shall be; everything left out is drawn from the seed. Lengths in mm. */
export interface PhantomOptions {
  /** About how many triangles the scan has; default 250,000. */
  readonly triangles?: number;
  /** Least triangles of the clean surface that frame and measures are taken from; default 100,000. */
  readonly denseTriangles?: number;
  readonly family?: Family;
  readonly side?: Side;
  /** Draws the foot from this seed instead, a little changed: the other foot of a pair. */
  readonly footSeed?: number;
  readonly oddities?: readonly Oddity[];
  /** How many of each; 0 for none. */
  readonly dents?: number;
  readonly bumps?: number;
  readonly ridges?: number;
  readonly seam?: boolean;
  /** Ranges for dents and bumps; default 8 to 28 wide, 0.3 to 5 deep (at most 0.22 of the width). */
  readonly markWidth?: readonly [number, number];
  readonly markDepth?: readonly [number, number];
  /** Where dents and bumps may lie; everywhere by default. */
  readonly regions?: readonly Region[];
  /** Whether marks may lie on each other; default no. */
  readonly overlap?: boolean;
  /** Amplitude of the bandage's weave; default 0.02 to 0.10. */
  readonly weave?: number;
  /** Amplitude of the slow change of plaster thickness; default 0. */
  readonly thickness?: number;
  /** Standard deviation of scan noise along the normal; default 0.02 to 0.08. */
  readonly noise?: number;
  readonly holes?: number;
  readonly debris?: boolean;
  readonly missingSole?: boolean;
  readonly top?: 'cut' | 'ragged' | 'capped';
  /** How far the cast reaches above the medial malleolus; default 60 to 140. */
  readonly rise?: number;
  /** How the foot stood while the plaster set; by default as it was drawn: on nothing, toes in the air. */
  readonly position?: Position;
  /** False leaves the scan in the foot frame. */
  readonly posed?: boolean;
  readonly unit?: 'mm' | 'cm' | 'm' | 'in';
}
