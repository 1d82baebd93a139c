import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { Measures } from '../truth.js';
import type { CutKind } from './cut-error.js';
import type { NearSkin } from './near-skin.js';
import type { Wall } from './wall.js';

/** A thin area or a hole through the wall. */
export interface WeakPlace {
  readonly kind: 'thin' | 'broken';
  /** On the skin, in the foot frame. */
  readonly centre: readonly [number, number, number];
  /** mm² of the skin: of a thin area where the wall is under half its nominal thickness, of a hole the whole of it. */
  readonly area: number;
  /** Thickness at its middle, mm; 0 for a hole. */
  readonly least: number;
}

export type GirthId = 'ball-girth' | 'waist-girth' | 'instep-girth';

/** What closing the shell wrongly did; zeros for a sound one. */
export interface CutTruth {
  readonly kind: CutKind;
  /** Girths by the reference's tapes after less before, at the sound foot's landmarks, mm: the edges apart or over each other, without lips, steps, bulges, seam and marks. */
  readonly girthChange: { readonly [id in GirthId]: number };
  /** By how much the edges stand apart (negative: lie over each other) where the cut passes under each of the three tapes, mm. */
  readonly gap: { readonly [id in GirthId]: number };
  readonly widest: number;
  /** The greatest height of one edge over the other that holds for 10 mm of the cut, mm. */
  readonly step: number;
  /** Middle of the cut, foot frame, about every 3 mm from the toes to the top. */
  readonly path: Float64Array;
}

/** Everything known exactly of a shell. In the foot frame of the clean skin; a left foot's y is mirrored. */
export interface ShellTruth {
  readonly side: Side;
  /** Scan coordinates in mm → foot frame. */
  readonly transform: Transform;
  readonly landmarks: Landmarks;
  /** Of the clean skin up to the shell's edge. */
  readonly measures: Measures;
  /** The skin in the frame of a right foot, whatever the side. */
  readonly skin: NearSkin;
  readonly edge: (x: number, y: number) => number;
  /** The clean outside at the wall's distance, reaching above the edge, in the frame of a right foot; null where none was built. */
  readonly outer: Mesh | null;
  /** In the frame of a right foot. */
  readonly wall: Wall;
  readonly nominalWall: number;
  /** Mean over the skin below the edge. */
  readonly meanWall: number;
  readonly weak: readonly WeakPlace[];
  readonly cut: CutTruth;
  /** Height of marks, seam and kinks that the scanned sheets bear over a point of the skin, mm: its greatest on any of them. In the frame of a right foot. */
  readonly marked: (x: number, y: number, z: number) => number;
}
