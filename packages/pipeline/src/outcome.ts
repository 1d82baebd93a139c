import type { Side } from '@cast-to-last/foot/side';
import type { Sizes } from '@cast-to-last/foot/sizes';
import type { Casting } from './order.js';
import type {
  AlignedCast, CastCheck, InspectedCast, Last, LengthUnit, MeasuredCast, RepairedCast, Scan, ScanKind, ShelledCast, SmoothedCast,
} from './records.js';
import type { RuleSet } from './rules/rules.js';

/** What one cast is made from: the scan file's bytes and what the person at the bench says of them. */
export interface CastInput {
  readonly bytes: Uint8Array;
  readonly fileName: string;
  readonly side: Side;
  readonly kind: ScanKind;
  /** The file's unit; 'auto' infers it from the size. */
  readonly unit: LengthUnit | 'auto';
  /** Wall of a plaster shell, mm; unused for a positive. */
  readonly wallMm?: number;
  /** Go on where the declared side contradicts the shape. */
  readonly sideOverride?: boolean;
  /** What the order says of how the cast was taken. */
  readonly casting?: Casting;
  /** For the last's label. */
  readonly orderNumber?: string;
}

/** Every record that the stages made of one cast up to the verdict on it. */
export interface CheckOutcome {
  readonly inputSha256: string;
  readonly rulesSha256: string;
  readonly rules: RuleSet;
  /** What the order says of how the cast was taken. */
  readonly casting: Casting;
  readonly scan: Scan;
  readonly repaired: RepairedCast;
  readonly shelled: ShelledCast;
  readonly aligned: AlignedCast;
  readonly inspected: InspectedCast;
  readonly smoothed: SmoothedCast;
  readonly measured: MeasuredCast;
  readonly check: CastCheck;
  readonly sizes: Sizes;
}

/** The same with the last. */
export interface CastOutcome extends CheckOutcome {
  readonly last: Last;
}

/** How a host runs a stage: it may time it, say so, or hand back a stored result of the same key instead of running it. */
export type Step = <T>(name: StageName, key: string, run: () => T | Promise<T>) => Promise<T>;

/** In the order of the work; the last two are the host's choice. */
export const STAGE_NAMES = [
  'read-scan', 'repair', 'shell', 'align', 'find-marks', 'smooth-marks', 'measure', 'check-cast', 'build-last', 'draw-sheet',
  'draw-note',
] as const;

export type StageName = (typeof STAGE_NAMES)[number];
