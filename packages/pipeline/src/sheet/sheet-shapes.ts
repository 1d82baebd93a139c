import { isTaken } from '@cast-to-last/foot/measures';
import type { Measurement, TapeLine } from '@cast-to-last/foot/measures';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { CastOutcome } from '../outcome.js';

/** A tape as it lies on cast or last: a closed line in one plane. */
export interface SheetStation {
  readonly id: string;
  readonly on: 'cast' | 'last';
  readonly line: TapeLine;
}

/** What the drawings of a sheet are made from; settled foot frame, mm. */
export interface SheetShapes {
  readonly cast: Mesh;
  readonly last: Mesh;
  /** Height up to which the cast is whole all round. */
  readonly castWholeTo: number;
  readonly stations: readonly SheetStation[];
  /** x, y, z of the edge between sole and upper, closed; empty where the rules made none. */
  readonly featherLine: Float64Array;
  /** Points on the ground of each mark, x, y, z, by the mark's id; marks may lack them. */
  readonly markPoints: ReadonlyMap<string, Float64Array>;
}

/** Height up to which a cast is whole all round, from the boundary loop at its top; null: it is closed. */
export function wholeHeight({ positions }: Mesh, opening: Uint32Array | null): number {
  if (opening === null) return bounds(positions)[5];
  return opening.reduce((lowest, v) => Math.min(lowest, positions[3 * v + 2]), Infinity);
}

export function shapesOfOutcome({ aligned, inspected, measured, last }: CastOutcome): SheetShapes {
  const { positions } = inspected.surface.mesh;
  const markPoints = new Map<string, Float64Array>();
  for (const mark of inspected.marks) {
    const points = new Float64Array(3 * mark.vertices.length);
    mark.vertices.forEach((v, i) => points.set(positions.subarray(3 * v, 3 * v + 3), 3 * i));
    markPoints.set(mark.id, transformPositions(measured.settle, points));
  }
  return {
    cast: measured.mesh,
    last: last.mesh,
    castWholeTo: wholeHeight(measured.mesh, aligned.opening),
    stations: [...stationsOf(measured.measurements), ...stationsOf(last.measurements)],
    featherLine: last.featherLine,
    markPoints,
  };
}

/** The tapes among measures. */
export const stationsOf = (measurements: readonly Measurement[]): SheetStation[] =>
  measurements.flatMap((m) => (isTaken(m) && m.tape !== undefined && m.tape.length >= 9 ? [{ id: m.id, on: m.on, line: m.tape }] : []));
