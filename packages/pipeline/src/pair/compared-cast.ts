import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Side } from '@cast-to-last/foot/side';
import type { Casting } from '../order.js';
import type { CastCheck } from '../records.js';
import type { ReportedMeasurement } from '../report/report.js';

/** What the comparison of two casts reads of each. */
export interface ComparedCast {
  /** How sentences call it: "the left cast". */
  readonly name: string;
  readonly side: Side;
  /** The load that stood on the foot; undefined where no order says so. */
  readonly load: Casting['load'];
  /** Of the surface that is compared: of the cleaned cast, or of the last. */
  readonly measurements: readonly ReportedMeasurement[];
  readonly check: CastCheck;
  /** In its own foot frame, welded. */
  readonly mesh: Mesh;
}

export type Which = 'first' | 'second';

/** A figure that both casts have. Differences are first less second; uncertainties half-widths of 95 % intervals. */
export interface ComparedFigure {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly first: number;
  readonly second: number;
  readonly difference: number;
  readonly uncertainty: number;
  /** The difference that is wanted: casts on different footbeds differ in pitch. */
  readonly expected: number;
  /** Null where the rules set none. */
  readonly limit: number | null;
  readonly beyond: boolean;
}
