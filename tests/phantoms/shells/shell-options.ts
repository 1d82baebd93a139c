import type { Side } from '@cast-to-last/foot/side';
import type { Family } from '../phantom-options.js';
import type { CutKind } from './cut-error.js';

/** What was scanned. */
export type Delivered = 'positive' | 'outside' | 'inside' | 'two-sided';

/** What a shell phantom shall be; everything left out is drawn from the seed. Lengths in mm. */
export interface ShellOptions {
  readonly delivered?: Delivered;
  /** About how many triangles the scan has; default 60,000. */
  readonly triangles?: number;
  /** Least triangles of the clean skin that distances, frame and measures are taken from; default 60,000. */
  readonly denseTriangles?: number;
  readonly family?: Family;
  readonly side?: Side;
  /** Thickness of the wall; default 2 to 8. */
  readonly wall?: number;
  /** Slow variation of the wall as a share; default 0 or 0.05 to 0.15. */
  readonly swing?: number;
  /** Outside and inside: how the top is seen; default any. 'capped' is for the outside alone. */
  readonly top?: 'open' | 'rim' | 'capped';
  /** Inside: which way the triangles face; default in. */
  readonly facing?: 'in' | 'out';
  /** Inside: mirrored by mistake; default no. */
  readonly mirrored?: boolean;
  /** Two-sided: joined over the rim, or two pieces; default either. */
  readonly joined?: boolean;
  /** Two-sided: how many thin areas and how many holes through the wall; default 0. */
  readonly thin?: number;
  readonly broken?: number;
  readonly cut?: CutKind;
  /** See CutPlan. */
  readonly cutSize?: number;
  readonly cutAtInstep?: boolean;
  /** Dents, lumps and hollows; default drawn, true none. */
  readonly bare?: boolean;
  readonly seam?: boolean;
  /** Amplitude of the weave; default 0.02 to 0.1 inside, 0.02 to 0.12 outside. */
  readonly weave?: number;
  /** Height of the bandage's edges on the outside; default 0 to 0.35. */
  readonly bandageEdge?: number;
  readonly noise?: number;
  /** Holes that the scanner left. */
  readonly holes?: number;
  /** How far the edge lies above the medial malleolus; default 35 to 110. */
  readonly rise?: number;
  readonly posed?: boolean;
  readonly unit?: 'mm' | 'cm' | 'm' | 'in';
}
