import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Measurement } from '@cast-to-last/foot/measures';
import { takeMeasures, takeToeMeasures } from '@cast-to-last/foot/take-measures';
import type { Side } from '@cast-to-last/foot/side';
import { stretchToes } from '@cast-to-last/foot/stretch-toes';
import { capLoop } from '@cast-to-last/geometry/cap-loop';
import { bounds } from '@cast-to-last/geometry/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { SolidError, withSolids } from '@cast-to-last/geometry/solid';
import { CastError } from '../errors.js';
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
  const whole = wholeHeight(measured.mesh, aligned.opening);
  if (topHeightMm !== null && whole < topHeightMm) throw tooLow(whole, topHeightMm);
  const closed = inFloat32(aligned.opening === null ? measured.mesh : capLoop(measured.mesh, aligned.opening));
  try {
    const { body, mesh, volume } = await withSolids((scope) => {
      const cut = topHeightMm === null ? closed : scope.ofMesh(closed).trimByPlane([0, 0, -1], -topHeightMm).toMesh();
      const stretched = toeAllowanceMm === 0 ? cut : inFloat32(stretchToes(cut, measured.landmarks, toeAllowanceMm));
      return { body: cut, mesh: stretched, volume: scope.ofMesh(stretched).volume };
    });
    const top = topHeightMm ?? (aligned.opening === null ? Infinity : whole);
    const surface = { body, mesh, filled: () => filledOf(body, closed, aligned.filled), side: aligned.side, wholeTo: top };
    return {
      mesh,
      volume,
      manifold: true,
      allowances: { toeMm: toeAllowanceMm, topHeightMm },
      measurements: measureLast(surface, topHeightMm === null ? measured.measurements : null),
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

interface LastSurface {
  /** The last before its toes are stretched, and after. */
  readonly body: Mesh;
  readonly mesh: Mesh;
  readonly filled: () => Uint8Array;
  readonly side: Side;
  readonly wholeTo: number;
}

/**
 * The measures of the last. Stations are fractions of the foot's length, not of the last's, so all but those of the toes are
 * of the body before the toes are stretched. A body that is not cut flat has the cast's own surface and so its measures: its
 * cap is no part of the foot, and no tape goes over it. As on the cast, a tape does not feel the finest noise.
 *
 * @param ofCast the measures of the cast where the body has its surface, else null
 */
function measureLast({ body, mesh, filled, side, wholeTo }: LastSurface, ofCast: readonly Measurement[] | null): readonly Measurement[] {
  const same = ofCast?.map((m): Measurement => ({ ...m, on: 'last' }));
  if (same !== undefined && body === mesh) return same;
  const options = { side, on: 'last' as const, roughness: 0, wholeTo };
  const behind = same ?? takeMeasures(feltSurface(body, filled()), options)?.measurements;
  if (behind === undefined) throw new Error('the body of a measured cast holds no heel or ball');
  if (body === mesh) return behind;
  const ofToes = takeToeMeasures(feltSurface(mesh, filled()), options) ?? [];
  return behind.map((m) => ofToes.find((other) => other.id === m.id) ?? m);
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

