import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { fillHoles } from '@cast-to-last/geometry/repair/fill-holes';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { rimShape } from '@cast-to-last/geometry/repair/rim-shape';
import type { RimShape } from '@cast-to-last/geometry/repair/rim-shape';
import type { Rows } from '@cast-to-last/geometry/mesh/topology';
import { CastError } from '../errors.js';

export const HOLES_DEFAULTS = {
  /** Largest share of the surface, opening included, that may be missing. */
  mostMissing: 0.35,
  /** Fills of at least this area (mm²) are said one by one, up to this many. */
  saidArea: 300,
  saidCount: 3,
  /** All fills together are said from this area on, mm². */
  saidTotal: 1000,
  /** How far the fill of a cast that was cut from a table may stand out over the cut, mm. */
  aboveTable: 1.5,
  /** A fill with a rim of at least this radius (mm), and an aspect and steepness (degrees) like these, closes an open sole. */
  soleRadius: 45,
  soleAspect: [1.8, 3.6],
  soleSteepnessDeg: 40,
} as const;

export interface ClosedHoles {
  readonly mesh: Mesh;
  /** One byte a vertex: 1 on fills. */
  readonly filled: Uint8Array;
  /** mm² */
  readonly area: number;
  readonly warnings: readonly string[];
}

/**
 * Fills every hole of an outward manifold mesh; the opening stays open. `cutFromTable`: the sole is a cut just above a table.
 *
 * @throws CastError `too-much-missing`
 */
export function closeHoles(
  mesh: Mesh,
  around: Rows,
  holes: readonly Uint32Array[],
  opening: Uint32Array | null,
  cutFromTable: boolean,
): ClosedHoles {
  const d = HOLES_DEFAULTS;
  const present = surfaceArea(mesh);
  const shapes = holes.map((loop) => rimShape(mesh, around, loop));
  const open = opening === null ? null : rimShape(mesh, around, opening);
  const missing = shapes.reduce((sum, s) => sum + (s?.area ?? 0), open?.area ?? 0);
  const share = missing / (present + missing);
  if (share > d.mostMissing) {
    throw new CastError(
      'too-much-missing',
      `About ${Math.round(100 * share)} % of the surface is missing.`,
      'Scan the cast again from more sides, so that only the top (and at most the sole) stays open.',
    );
  }
  if (holes.length === 0) return { mesh, filled: new Uint8Array(vertexCount(mesh)), area: 0, warnings: [] };

  const closed = fillHoles(mesh, around, holes, cutFromTable ? d.aboveTable : undefined);
  const filled = new Uint8Array(vertexCount(closed.mesh));
  filled.fill(1, closed.firstVertex);
  const areas = holes.map((_, i) =>
    surfaceArea({ positions: closed.mesh.positions, triangles: closed.mesh.triangles.subarray(3 * closed.starts[i], 3 * closed.starts[i + 1]) }),
  );
  const area = areas.reduce((sum, a) => sum + a, 0);
  return { mesh: closed.mesh, filled, area, warnings: sayFills(areas, shapes, area) };
}

function sayFills(areas: readonly number[], shapes: readonly (RimShape | null)[], total: number): string[] {
  const d = HOLES_DEFAULTS;
  const large = Array.from(areas.keys()).filter((i) => areas[i] >= d.saidArea).sort((i, j) => areas[j] - areas[i]);
  const warnings = large.slice(0, d.saidCount).map((i) => {
    const shape = shapes[i];
    const centimetres = `${Math.round(areas[i] / 100)} cm²`;
    if (shape && isOpenSole(shape)) {
      return `The scan has no sole (${centimetres}); a smooth surface was put in its place, and the sole's own shape is not known.`;
    }
    return `A hole of ${centimetres} was filled with a smooth surface; check what leans on it.`;
  });
  if (large.length > warnings.length) warnings.push(`${large.length - warnings.length} more holes of 3 cm² or more were filled.`);
  if (large.length === 0 && total >= d.saidTotal) warnings.push(`Many small holes, ${Math.round(total / 100)} cm² in all, were filled.`);
  return warnings;
}

const isOpenSole = (shape: RimShape): boolean =>
  shape.radius >= HOLES_DEFAULTS.soleRadius &&
  shape.aspect >= HOLES_DEFAULTS.soleAspect[0] &&
  shape.aspect <= HOLES_DEFAULTS.soleAspect[1] &&
  shape.steepness >= (HOLES_DEFAULTS.soleSteepnessDeg * Math.PI) / 180;
