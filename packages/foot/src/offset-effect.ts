import { cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { Wrapped } from './girths.js';
import type { Measurement } from './measures.js';
import { isTaken } from './measures.js';
import type { TakeOptions } from './measure-taker.js';
import { measureStanding } from './measure-standing.js';

/** Vertex spacing of the surface that is moved, mm, and the least and most that it is moved by. */
const SPACING = 2;
const MOVED = { least: 0.3, most: 1.5 } as const;

/** Per mm: a tape round a closed curve, and a length whose two ends move apart; where a measure of the moved surface is missing. */
const BY_RULE = { girth: 2 * Math.PI, length: 2 } as const;

/**
 * What it does to each measure that the whole surface may lie off along its normal, as one that was moved by an uncertain
 * wall: the surface is moved out and in, stood in its frame anew and measured. For a girth whose section meets the surface
 * at right angles this is 2π times the amount, for the distance of two ends that face apart twice the amount; where the
 * surface leans against the section it is more, where one end alone moves less.
 *
 * @param surface in its settled frame
 * @param amount half-width of a 95 % interval, mm, more than 0
 * @returns the measures with that added to their uncertainty
 */
export function withOffsetEffect(measurements: readonly Measurement[], surface: Wrapped, options: TakeOptions, amount: number): Measurement[] {
  const by = Math.min(MOVED.most, Math.max(MOVED.least, amount));
  const coarse = coarsen(surface.mesh, SPACING);
  const filled = cellsWith(surface.filled, coarse.cellOf, coarse.mesh.positions.length / 3);
  const twin = twins(coarse.mesh);
  const normals = vertexNormals(coarse.mesh);
  const [inner, outer] = [-by, by].map((off) => {
    const mesh = { positions: coarse.mesh.positions.map((c, i) => c + off * normals[i]), triangles: coarse.mesh.triangles };
    return measureStanding({ mesh, twin, filled }, options)?.measurements ?? [];
  });
  return measurements.map((m) => {
    if (!isTaken(m)) return m;
    const [low, high] = [inner, outer].map((taken) => taken.find((other) => other.id === m.id));
    const perMm =
      low !== undefined && high !== undefined && isTaken(low) && isTaken(high)
        ? Math.abs(high.value - low.value) / (2 * by)
        : m.unit === 'deg' ? 0 : m.id.endsWith('girth') ? BY_RULE.girth : BY_RULE.length;
    return { ...m, uncertainty: Math.hypot(m.uncertainty, perMm * amount) };
  });
}
