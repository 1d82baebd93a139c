import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { MeasureId } from '@cast-to-last/foot/measures';
import type { Side } from '@cast-to-last/foot/side';
import type { Plants, Position } from './position/position.js';
import type { RearPlate } from './position/rear-plate.js';

export type Region = 'toes' | 'ball' | 'sole' | 'arch' | 'heel' | 'instep' | 'ankle' | 'sides';
export const REGIONS: readonly Region[] = ['toes', 'ball', 'sole', 'arch', 'heel', 'instep', 'ankle', 'sides'];

/** A mark as it was planted. Lengths in mm, positions in the foot frame on the clean surface. */
export interface PlantedMark {
  readonly kind: 'dent' | 'bump' | 'ridge' | 'seam';
  readonly profile: string;
  readonly region: Region;
  /** On the clean surface; for ridges and the seam the middle of the path. */
  readonly centre: readonly [number, number, number];
  /** Greatest displacement along the clean normal; negative into the cast. */
  readonly depth: number;
  /** Across, between the places where the displacement falls to a tenth of the depth (short axis of an ellipse). */
  readonly width: number;
  /** As `width`, along the long axis; along the path for ridges and the seam. */
  readonly length: number;
  /** x, y, z along the middle of a ridge or seam, about 1 mm apart; absent for dents and bumps. */
  readonly path?: Float64Array;
  /** Vertices of the scan displaced by this mark by at least a tenth of its depth. */
  readonly vertices: Uint32Array;
}

export type Measures = { readonly [id in MeasureId]?: number };

/** What is known exactly of a phantom. */
export interface CastTruth {
  readonly side: Side;
  readonly family: string;
  /** Scan coordinates in mm → foot frame. */
  readonly transform: Transform;
  readonly landmarks: Landmarks;
  /** By measurements' ids, mm or degrees; ids that the cast cannot give are left out. */
  readonly measures: Measures;
  readonly marks: readonly PlantedMark[];
  /** The whole clean surface up to the top cut (no marks, seam, noise, holes), in the foot frame. */
  readonly clean: Mesh;
  /** Signed distance of a point in the foot frame from the clean surface, mm, positive outside; first order, for points within about 5 mm. */
  readonly cleanDistance: (x: number, y: number, z: number) => number;
  /** Outward height of the bandage texture over the clean surface at a point of the foot frame, mm. */
  readonly texture: (x: number, y: number, z: number) => number;
  /** One a scan vertex, in the foot frame: where the vertex lies on the clean surface; NaN for debris. Length 3 × vertices. */
  readonly cleanPositions: Float64Array;
  /** Unit normals of the clean surface there. */
  readonly cleanNormals: Float64Array;
  /** Displacement along the normal that marks caused, one a scan vertex, mm. */
  readonly markHeights: Float64Array;
  /** One a scan vertex: index into `marks`, or −1. */
  readonly markOf: Int32Array;
  /** Of a cast whose position was asked for. */
  readonly placed?: {
    readonly position: Position;
    readonly plants: Plants;
    /** x of the longest toe's tip under all bandage, in the foot frame. */
    readonly toeEnd: number;
    /** Lowest point of the cast's upper edge, or of its cap, in the foot frame. */
    readonly wholeTo: number;
    /** How far the hinge between the plates lies ahead of the inside ball point, at its breadth, mm. */
    readonly hingeMm: number;
    readonly rearPlate: RearPlate;
  };
}
