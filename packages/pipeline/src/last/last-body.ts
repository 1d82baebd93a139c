import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** What the steps between the cleaned cast and the last hand on. Arrays are never changed by a later step. */
export interface LastBody {
  /** Foot frame, mm; one connected, outward, manifold surface. */
  readonly mesh: Mesh;
  /** Vertices of the opening at the top in loop order; null where it is closed. */
  readonly opening: Uint32Array | null;
  /** One byte a vertex: 1 where repair made the surface. */
  readonly filled: Uint8Array;
  /** Of the foot, moved along with the body: the stations of every measure of the last. */
  readonly landmarks: Landmarks;
  readonly side: Side;
  /** x, y, z of the edge between sole and upper, a closed line, mm; absent where none was made. */
  readonly feather?: Float64Array;
}

/** One change of length, girth or angle: what it was, what the rules ask for, what came of it, all in `unit`. */
export interface LastChange {
  /** Stable, kebab-case. */
  readonly id: string;
  readonly label: string;
  readonly unit: 'mm' | 'deg' | '%';
  readonly before: number;
  /** Null for what is told and not asked for. */
  readonly asked: number | null;
  readonly got: number;
}

/** A change that was asked for. */
export type AskedChange = LastChange & { readonly asked: number };

/** A body, and what a step changed to make it. */
export interface LastStep {
  readonly body: LastBody;
  readonly changes: readonly LastChange[];
  /** What the maker has to know: an asked shape that the foot does not allow. */
  readonly warnings: readonly string[];
}
