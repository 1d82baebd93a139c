/** What the page asks of the thread that holds the meshes. Foot frame, mm. A body's key is its side and name, as "left:cleaned". */

export interface ShownBody {
  readonly name: 'scan' | 'cleaned' | 'last';
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly triangles: Uint32Array;
  /** mm at each vertex, outward positive; null where the body has none. */
  readonly change: Float32Array | null;
  /** How many triangles the body has, whatever level of it this is. */
  readonly ofTriangles: number;
}

export interface Plane {
  /** Unit vector. */
  readonly normal: readonly [number, number, number];
  readonly offset: number;
}

export interface CutCurve {
  readonly points: Float32Array;
  readonly closed: boolean;
}

export interface Cut {
  readonly curves: readonly CutCurve[];
  /** The tape round all that the plane cuts; null where a curve is open, so that no tape closes round it. */
  readonly tape: { readonly length: number; readonly line: Float32Array } | null;
}

export interface Met {
  readonly point: readonly [number, number, number];
  readonly normal: readonly [number, number, number];
}

/** A line across a mark before and after, s along the surface's tangent, h along its normal, mm from the mark's centre. */
export interface Profile {
  readonly before: readonly Float32Array[];
  readonly after: readonly Float32Array[];
}

/** What ground is what: a mark's by its decision, a patch's by what it asks. */
export const GROUND = { none: 0, ask: 1, smooth: 2, keep: 3, patch: 4, protect: 5 } as const;

export interface Ground {
  readonly code: number;
  /** x, y, z of points that each stand for ground of `radius`. */
  readonly points: Float32Array;
  readonly radius: number;
}

/** A value that stands for none: far beyond any scale. */
export const NOTHING = 1e9;

export interface DeviationAsked {
  /** Keys of the bodies that were laid on each other: the first, mirrored where they are of two sides, by the transform on the second. */
  readonly first: string;
  readonly second: string;
  readonly mirrored: boolean;
  /** 4 × 4 row-major. */
  readonly transform: readonly number[];
  /** Whose points are asked of. */
  readonly of: 'first' | 'second';
  readonly positions: Float32Array;
  readonly normals: Float32Array;
}

export interface Calls {
  /** Unpacks a file; with `keep`, what is asked of the bodies is answered from it from now on. */
  unpack(asked: { bytes: ArrayBuffer; side: string; keep: boolean }): ShownBody[];
  cut(asked: { body: string; plane: Plane; felt: boolean; through: readonly [number, number, number] | null }): Cut | null;
  pick(asked: { body: string; from: readonly [number, number, number]; along: readonly [number, number, number] }): Met | null;
  /** The surface's normal at the place nearest to each point. */
  normalsAt(asked: { body: string; points: Float32Array }): Float32Array | null;
  /** For each point, 1 where the body hides it from a viewer at `from`. */
  hiddenFrom(asked: { body: string; from: readonly [number, number, number]; points: Float32Array }): Uint8Array | null;
  profile(asked: { before: string; after: string; at: readonly [number, number, number]; along: readonly [number, number, number]; reach: number }): Profile | null;
  /** How far each point of one body stands off another, outside positive, mm; NOTHING where there is no counterpart. */
  deviation(asked: DeviationAsked): Float32Array | null;
  /** For each vertex, the code of the last ground that it lies on. */
  ground(asked: { positions: Float32Array; grounds: readonly Ground[] }): Uint8Array;
  forget(asked: { side: string }): null;
}

export type CallName = keyof Calls;
export interface Request {
  readonly id: number;
  readonly call: CallName;
  readonly asked: unknown;
}
export type Reply = { readonly id: number; readonly answer: unknown } | { readonly id: number; readonly fault: string };
