import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { Measurement } from '@cast-to-last/foot/measures';
import type { LastChange } from './last/last-body.js';
import type { InspectionSurface } from './marks/inspection-surface.js';
import type { Side } from '@cast-to-last/foot/side';

/** What each stage hands to the next. Arrays are never changed by a later stage. */

export type ScanKind = 'positive' | 'outside' | 'inside';
export type LengthUnit = 'mm' | 'cm' | 'm' | 'in';

/** read-scan: one mesh in millimetres, in the scan's own coordinates. */
export interface Scan {
  readonly mesh: Mesh;
  readonly format: 'stl-binary' | 'stl-ascii' | 'ply-ascii' | 'ply-binary-little' | 'ply-binary-big' | 'obj';
  /** Triangles after polygons were split, before any repair. */
  readonly trianglesRead: number;
  readonly unit: LengthUnit;
  readonly unitHow: 'given' | 'inferred';
  readonly kind: ScanKind;
  readonly warnings: readonly string[];
}

/** Counts of what repair did; every key is present. */
export interface RepairCounts {
  readonly weldedVertices: number;
  readonly degenerateTriangles: number;
  readonly duplicateTriangles: number;
  readonly piecesDropped: number;
  readonly trianglesDropped: number;
  readonly trianglesFlipped: number;
  readonly nonManifoldEdges: number;
  readonly nonManifoldVertices: number;
  readonly holesFilled: number;
  /** mm² of surface that repair added. */
  readonly areaFilled: number;
}

/** repair: one connected, consistently outward, manifold surface with at most one boundary loop (the top opening). */
export interface RepairedCast {
  readonly mesh: Mesh;
  /** Vertices of the opening at the top in loop order; null where the scan's top is capped. */
  readonly opening: Uint32Array | null;
  /** One byte a vertex: 1 where repair made the surface. */
  readonly filled: Uint8Array;
  readonly repairs: RepairCounts;
  /** The other side of a shell whose both sides were scanned, as it was scanned; null elsewhere. */
  readonly outerSheet: Mesh | null;
  /** x, y, z along the edges of each cut of a shell that stands open up to the opening, from there round its end and back, scan coordinates, mm. */
  readonly openCuts: readonly Float64Array[];
  readonly warnings: readonly string[];
}

/** How the thickness of a shell's wall is known. */
export type WallHow = 'given' | 'order' | 'layers' | 'measured';

export interface Wall {
  readonly mm: number;
  readonly how: WallHow;
  /** Half-width of a 95 % interval, mm. */
  readonly uncertainty: number;
}

/** shell: the foot's own surface, whatever side of the plaster was scanned. */
export interface ShelledCast extends RepairedCast {
  /** Null for a positive, and for an inside scan that shows one side alone. */
  readonly wall: Wall | null;
  /** Half-width of a 95 % interval of how far the whole surface may lie off along its normal, mm; 0 where it was scanned itself. */
  readonly offsetUncertainty: number;
  /** Thickness of the wall at each vertex, mm, NaN where no other side lies behind it; null where one side was scanned. */
  readonly thickness: Float64Array | null;
}

/** align: the cast in a foot frame that is good to about a millimetre; `measure` settles it on the cleaned surface. */
export interface AlignedCast {
  readonly mesh: Mesh;
  readonly opening: Uint32Array | null;
  readonly filled: Uint8Array;
  readonly side: Side;
  /** Scan coordinates in mm → foot frame. */
  readonly transform: Transform;
  readonly landmarks: Landmarks;
  readonly warnings: readonly string[];
}

/** What one check read off the cast, whether or not anything is wrong. */
export interface Reading {
  /** Stable, kebab-case. */
  readonly id: string;
  readonly label: string;
  /** Null where it cannot be read; `why` then says why. */
  readonly value: number | null;
  /** Half-width of a 95 % interval; null where there is none. */
  readonly uncertainty: number | null;
  readonly unit: string;
  /** What is wanted, and the deviations from there that need care or a new cast; null where there is no limit. */
  readonly wanted: number | null;
  readonly care: number | null;
  readonly recast: number | null;
  readonly why: string;
  /** Where it shows on the cast, settled foot frame, mm; null where it has no place. */
  readonly at: Point | null;
}

export interface Finding {
  readonly code: string;
  readonly severity: 'note' | 'care' | 'recast';
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string;
  readonly text: string;
  /** As a reading's. */
  readonly uncertainty: number | null;
  readonly at: Point | null;
}

/** check-cast: is this cast usable? */
export interface CastCheck {
  readonly verdict: 'usable' | 'usable-with-care' | 'recast';
  readonly findings: readonly Finding[];
  readonly readings: readonly Reading[];
}

export type MarkKind = 'dent' | 'bump' | 'ridge' | 'seam';
export type MarkDecision = 'smooth' | 'keep' | 'ask';

/** One mark on the cast. Lengths in mm, in the frame of the mesh it was found on. */
export interface Mark {
  readonly id: string;
  readonly kind: MarkKind;
  readonly centre: readonly [number, number, number];
  /** Signed: negative into the cast. */
  readonly depth: number;
  readonly area: number;
  readonly length: number;
  readonly width: number;
  readonly decision: MarkDecision;
  /** Why this decision, one sentence for the maker. */
  readonly why: string;
  /** Vertices of the inspection surface that the mark covers (its visible extent, without the margin that smoothing adds). */
  readonly vertices: Uint32Array;
  /** The one of them nearest its centre. */
  readonly centreVertex: number;
  /** How far beyond its vertices the mark still bends the surface, mm. */
  readonly margin: number;
}

/** find-marks */
export interface InspectedCast {
  readonly marks: readonly Mark[];
  /** The cast at the spacing at which marks are sought. */
  readonly surface: InspectionSurface;
  /** Standard deviation of scan noise together with plaster texture along the normal, mm. */
  readonly roughness: number;
  /** Whether fine lines cover the surface, so that no ridge, seam or cut can be told among them. */
  readonly rippled: boolean;
  /** What the maker has to know of decisions that could not be followed. */
  readonly warnings: readonly string[];
}

/** smooth-marks: same triangles as the aligned cast; vertices outside `moved` are bit-for-bit where they were. */
export interface SmoothedCast {
  readonly mesh: Mesh;
  /** One byte a vertex: 1 where smoothing may have moved it. */
  readonly moved: Uint8Array;
  /** What the maker has to know of marks and patches that were left as they are. */
  readonly warnings: readonly string[];
}

/** measure: the settled frame, and every measure of the cleaned cast. */
export interface MeasuredCast {
  /** The cleaned cast in the settled foot frame. */
  readonly mesh: Mesh;
  /** Scan coordinates in mm → settled foot frame. */
  readonly transform: Transform;
  /** The frame of AlignedCast → settled foot frame. */
  readonly settle: Transform;
  readonly landmarks: Landmarks;
  /** The inside of the ball as it would be without the marks that wait for the maker's decision; absent where none does. */
  readonly medialBallSmoothed?: Point;
  readonly measurements: readonly Measurement[];
}

/** build-last */
export interface Last {
  /** Closed, manifold, outward, in the settled foot frame. */
  readonly mesh: Mesh;
  /** mm³ */
  readonly volume: number;
  /** What the solid modeller said of the mesh, never assumed. */
  readonly manifold: true;
  readonly allowances: {
    readonly toeMm: number;
    readonly topHeightMm: number | null;
    /** Every change of length, girth and angle that the rules asked for. */
    readonly changes: readonly LastChange[];
  };
  /** What the maker has to know of the last. */
  readonly warnings: readonly string[];
  readonly measurements: readonly Measurement[];
  /** x, y, z of the edge between sole and upper, a closed line, mm; empty where the rules made none. */
  readonly featherLine: Float64Array;
}
