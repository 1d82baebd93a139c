import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CheckRules } from '../rules/check-rules.js';
import type { Casting } from '../order.js';
import type { AlignedCast, Finding, InspectedCast, MeasuredCast, Reading, RepairedCast, ScanKind, ShelledCast } from '../records.js';

/** What the check of one cast is made from. */
export interface CheckedRecords {
  readonly kind: ScanKind;
  readonly repaired: RepairedCast;
  readonly shelled: ShelledCast;
  readonly aligned: AlignedCast;
  readonly inspected: InspectedCast;
  readonly measured: MeasuredCast;
  readonly casting: Casting;
}

/** What each part of the check reads. */
export interface CheckContext extends CheckedRecords {
  readonly rules: CheckRules;
  /** The cleaned cast in the settled frame at a spacing of about 2 mm, noise taken off; position is read from it. */
  readonly surface: Mesh;
  readonly twin: Int32Array;
  /** Where each vertex of `surface` lay before marks were smoothed, settled frame, mm; length 3 × vertices. */
  readonly scanned: Float64Array;
  /** One byte a vertex of `surface`: 1 where repair made it. */
  readonly filled: Uint8Array;
}

/** One part's readings, in the order of the list, and what is wrong. */
export interface CheckPart {
  readonly readings: readonly Reading[];
  readonly findings: readonly Finding[];
}
