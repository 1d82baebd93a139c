import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Measurement } from '@cast-to-last/foot/measures';
import { takeLastMeasures } from '@cast-to-last/foot/take-measures';
import { capLoop } from '@cast-to-last/geometry/cap-loop';
import { bounds } from '@cast-to-last/geometry/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { SolidError, withSolids } from '@cast-to-last/geometry/solid';
import { CastError } from '../errors.js';
import type { LastBody } from '../last/last-body.js';
import { shapeLast } from '../last/shape-last.js';
import type { AlignedCast, Last, MeasuredCast } from '../records.js';
import type { LastRules } from '../last-rules.js';

/**
 * Makes the cleaned cast a last, first form: the top closed, cut flat at the rule's height where it names one, the rule's
 * length added ahead of the ball; a closed manifold solid, as the solid modeller finds it.
 *
 * @throws CastError `top-too-low` where the cast ends below the height of the flat top, `last-not-solid` where the surface
 * cannot be closed to a solid
 */
export async function buildLast(measured: MeasuredCast, aligned: Pick<AlignedCast, 'opening' | 'filled' | 'side'>, rules: LastRules): Promise<Last> {
  const { toeAllowanceMm, topHeightMm } = rules;
  const cast: LastBody = { mesh: measured.mesh, opening: aligned.opening, filled: aligned.filled, landmarks: measured.landmarks, side: aligned.side };
  const shaped = shapeLast(cast, rules);
  const whole = wholeHeight(shaped.body.mesh, shaped.body.opening);
  if (topHeightMm !== null && whole < topHeightMm) throw tooLow(whole, topHeightMm);
  const closed = inFloat32(shaped.body.opening === null ? shaped.body.mesh : capLoop(shaped.body.mesh, shaped.body.opening));
  try {
    const { mesh, volume } = await withSolids((scope) => {
      const solid = topHeightMm === null ? scope.ofMesh(closed) : scope.ofMesh(closed).trimByPlane([0, 0, -1], -topHeightMm);
      return { mesh: topHeightMm === null ? closed : solid.toMesh(), volume: solid.volume };
    });
    const top = topHeightMm ?? (shaped.body.opening === null ? Infinity : whole);
    // A last that is not cut flat and not shaped has the cast's own surface and so its measures: its cap is no part of the foot.
    const measurements = shaped.body === cast && topHeightMm === null
      ? measured.measurements.map((m): Measurement => ({ ...m, on: 'last' }))
      : measureLast(mesh, filledOf(mesh, closed, shaped.body.filled), shaped.body, top);
    return {
      mesh,
      volume,
      manifold: true,
      allowances: { toeMm: toeAllowanceMm, topHeightMm, changes: shaped.changes },
      warnings: shaped.warnings,
      measurements,
    };
  } catch (error) {
    if (error instanceof SolidError) throw notSolid(error);
    throw error;
  }
}

/** The height up to which the cast is whole all round. */
function wholeHeight({ positions }: Mesh, opening: Uint32Array | null): number {
  if (opening === null) return bounds(positions)[5];
  return opening.reduce((lowest, v) => Math.min(lowest, positions[3 * v + 2]), Infinity);
}

/** Coordinates as files hold them, so that what is checked is what is written. */
const inFloat32 = ({ positions, triangles }: Mesh): Mesh => ({ positions: new Float64Array(new Float32Array(positions)), triangles });

/** Which vertices of the body repair made; a cut body is ordered anew, but its vertices away from the cut are in place. */
function filledOf(body: Mesh, closed: Mesh, filled: Uint8Array): Uint8Array {
  const out = new Uint8Array(body.positions.length / 3);
  if (body === closed) {
    out.set(filled);
    return out;
  }
  const key = (p: Float64Array, v: number): string => `${p[3 * v]} ${p[3 * v + 1]} ${p[3 * v + 2]}`;
  const made = new Set<string>();
  for (let v = 0; v < filled.length; v++) if (filled[v] === 1) made.add(key(closed.positions, v));
  if (made.size > 0) for (let v = 0; v < out.length; v++) if (made.has(key(body.positions, v))) out[v] = 1;
  return out;
}

/** The measures of the last at the stations of its foot. As on the cast, a tape does not feel the finest noise. */
function measureLast(mesh: Mesh, filled: Uint8Array, { landmarks, side }: LastBody, wholeTo: number): readonly Measurement[] {
  const measurements = takeLastMeasures(feltSurface(mesh, filled), landmarks, { side, on: 'last', roughness: 0, wholeTo });
  if (measurements === null) throw new Error('the last of a measured cast has no heel or ball');
  return measurements;
}

const tooLow = (whole: number, wanted: number): CastError =>
  new CastError(
    'top-too-low',
    `The cast is whole up to ${whole.toFixed(0)} mm above the rest plane, but the rules ask for a flat top at ${wanted} mm.`,
    'Lower last.topHeightMm in the rules, set it to null to close the cast where it ends, or cast higher.',
  );

const notSolid = (error: SolidError): CastError =>
  new CastError(
    'last-not-solid',
    `The cleaned cast cannot be closed to a solid (${error.code}).`,
    'Look in the scan for places where the surface crosses or touches itself, mend them in the scanner\'s program, and try again.',
  );

