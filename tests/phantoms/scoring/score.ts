import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compose, invertRigid, transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import type { MeasureId } from '@cast-to-last/foot/measures';
import type { Phantom } from '../make-phantom.js';
import { scoreMarks, type MarksScore, type ReportedMark } from './score-marks.js';
import { scoreSurface, type SurfaceScore } from './score-surface.js';

/** What a program made of a cast: the parts of report.json that are scored, and the cleaned cast. */
export interface CastResult {
  /** Scan coordinates in mm → the program's foot frame; 16 numbers, row-major. */
  readonly transform: ArrayLike<number>;
  readonly measurements: readonly ({ readonly id: string; readonly value: number; readonly on?: string } | { readonly id: string; readonly absent: string; readonly on?: string })[];
  /** Centres in the program's foot frame. */
  readonly marks: readonly ReportedMark[];
  /** In the program's foot frame, mm. */
  readonly cleaned: Mesh;
  /** Marks found when the cleaned cast was put through again; left out where that was not tried. */
  readonly secondPassMarks?: number;
}

export interface MeasureScore {
  readonly id: MeasureId;
  /** Program − reference; null where either is absent. */
  readonly error: number | null;
  /** The reference has it, the program does not. */
  readonly missed: boolean;
  /** The program has it, the reference does not. */
  readonly surplus: boolean;
}

export interface CastScore {
  readonly seed: number;
  /** Scan noise along the normal, mm. */
  readonly noise: number;
  /** Root mean square over the clean surface of the distance between the program's and the true place of each point. */
  readonly frameRms: number;
  /** Angle between the program's frame and the true one. */
  readonly frameAngleDeg: number;
  readonly measures: readonly MeasureScore[];
  readonly marks: MarksScore;
  readonly surface: SurfaceScore;
  readonly secondPassMarks: number | null;
}

/** Every figure of one cast. The truth is not handed to the program; only `phantom.scan` is. */
export function scoreCast(phantom: Phantom, result: CastResult): CastScore {
  const { truth } = phantom;
  const program = Float64Array.from(result.transform) as Transform;
  const toTruth = compose(truth.transform, invertRigid(program));
  const fromTruth = invertRigid(toTruth);
  const moved = transformPositions(fromTruth, truth.clean.positions);
  let squares = 0;
  for (let i = 0; i < moved.length; i++) squares += (moved[i] - truth.clean.positions[i]) ** 2;
  const turn = (fromTruth[0] + fromTruth[5] + fromTruth[10] - 1) / 2;
  const given = new Map<string, number>();
  for (const m of result.measurements) if ('value' in m && m.on !== 'last') given.set(m.id, m.value);
  const ids = new Set([...Object.keys(truth.measures), ...given.keys()]) as Set<MeasureId>;
  return {
    seed: phantom.seed,
    noise: phantom.made.noise,
    frameRms: Math.sqrt(squares / (moved.length / 3)),
    frameAngleDeg: (Math.acos(Math.min(1, Math.max(-1, turn))) * 180) / Math.PI,
    measures: [...ids].map((id) => {
      const reference = truth.measures[id];
      const value = given.get(id);
      return {
        id,
        error: reference === undefined || value === undefined ? null : value - reference,
        missed: reference !== undefined && value === undefined,
        surplus: reference === undefined && value !== undefined,
      };
    }),
    marks: scoreMarks(truth.marks, result.marks, toTruth),
    surface: scoreSurface(result.cleaned, truth, toTruth),
    secondPassMarks: result.secondPassMarks ?? null,
  };
}
