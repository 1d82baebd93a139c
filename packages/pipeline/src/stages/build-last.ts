import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Measurement } from '@cast-to-last/foot/measures';
import { takeLastMeasures } from '@cast-to-last/foot/take-measures';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { sameVertices } from '@cast-to-last/geometry/mesh/same-vertices';
import { SolidError, withSolids } from '@cast-to-last/geometry/solids/solid';
import { weighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import { uncrossed } from '@cast-to-last/geometry/crossings/uncrossed';
import { CastError } from '../errors.js';
import { closeTop } from '../last/close-top.js';
import type { LastBody, LastStep } from '../last/last-body.js';
import { shapeLast } from '../last/shape-last.js';
import type { LastRules } from '../rules/last-rules.js';
import type { CastInput } from '../outcome.js';
import type { AlignedCast, Last, MeasuredCast } from '../records.js';

/** What of the order goes into the last beside the rules. */
export interface LastParticulars {
  /** That the cast was taken on; null where none is known. */
  readonly footbed: HingedFootbed | null;
  /** On the last's label; null where none is wanted or known. */
  readonly orderNumber: string | null;
}

const NO_PARTICULARS: LastParticulars = { footbed: null, orderNumber: null };

/** The particulars that these rules make use of: what they do not changes no last. */
export const particularsFor = ({ stance, top }: LastRules, { casting, orderNumber }: Pick<CastInput, 'casting' | 'orderNumber'>): LastParticulars => ({
  footbed: stance.heelHeightMm === null && stance.toeSpringMm === null ? null : (casting?.footbed ?? null),
  orderNumber: top.label === 'none' ? null : (orderNumber ?? null),
});

/** The cleaned cast as the steps of the last receive it. */
export const castBody = ({ mesh, landmarks }: MeasuredCast, { opening, filled, side }: Pick<AlignedCast, 'opening' | 'filled' | 'side'>): LastBody => ({ mesh, opening, filled, landmarks, side });

/**
 * Makes the cleaned cast a last: everything that the rules ask for below its top, then the top; a closed manifold solid, as the
 * solid modeller finds it. Without any rule it is the cleaned cast, closed where it ends.
 *
 * @param weigh the solid modeller's word on the last; a host may have it said in another thread, while the last is measured here
 * @throws CastError those of `shapeLast` and `closeTop`; `last-not-solid` where the surface cannot be closed to a solid
 */
export async function buildLast(
  measured: MeasuredCast, aligned: Pick<AlignedCast, 'opening' | 'filled' | 'side'>, rules: LastRules, particulars: LastParticulars = NO_PARTICULARS,
  weigh = weighSolid,
): Promise<Last> {
  const cast = castBody(measured, aligned);
  const shaped = shapeLast(cast, rules, particulars.footbed);
  // A last that nothing was done to has the cast's own surface and so its measures: its cap is no part of the foot.
  const asMeasured = shaped.body === cast ? measured.measurements : null;
  return finishLast(shaped, rules, particulars, { foot: shaped.foot.mesh, asMeasured }, weigh);
}

/** What a shaped body still has of the cast that it was made of. */
export interface OfTheCast {
  /** The cleaned cast, without the plaster's expansion: where the last keeps its surface, nothing is mended; null where it keeps none. */
  readonly foot: Mesh | null;
  /** Measures of a body that has the cast's own surface; else null. */
  readonly asMeasured: readonly Measurement[] | null;
}

/** Closes a shaped body, takes off what crosses itself where it was shaped, and measures what came of it. */
export async function finishLast(
  { body, changes, warnings }: LastStep, rules: LastRules, { orderNumber }: LastParticulars, { foot, asMeasured }: OfTheCast, weigh = weighSolid,
): Promise<Last> {
  const closed = await asSolid(withSolids((scope) => closeTop(scope, body, rules, orderNumber === null ? null : { orderNumber })));
  const [volume, { mesh, measurements }] = await beside(asSolid(weigh(closed.mesh)), () => {
    if (asMeasured !== null && closed.changes.length === 0 && closed.top === null) {
      return { mesh: closed.mesh, measurements: asMeasured.map((m): Measurement => ({ ...m, on: 'last' })) };
    }
    const clear = uncrossed(closed.mesh, foot === null ? undefined : trianglesNotOf(foot, closed.mesh));
    return { mesh: clear, measurements: measureLast(clear, filledOf(clear, body), body, closed.wholeTo) };
  });
  return {
    mesh,
    volume,
    manifold: true,
    allowances: { toeMm: rules.toeAllowanceMm, topHeightMm: rules.topHeightMm, changes: [...changes, ...closed.changes] },
    warnings: [...warnings, ...closed.warnings],
    measurements,
    featherLine: body.feather ?? new Float64Array(0),
  };
}

/** What is found elsewhere, and what is made here meanwhile; where both fail, the first one's failure is the other's reason. */
async function beside<T, U>(found: Promise<T>, make: () => U): Promise<[T, U]> {
  let made: U;
  try {
    made = make();
  } catch (error) {
    await found;
    throw error;
  }
  return [await found, made];
}

async function asSolid<T>(found: Promise<T>): Promise<T> {
  try {
    return await found;
  } catch (error) {
    if (error instanceof SolidError) throw notSolid(error);
    throw error;
  }
}

/** The triangles of a last with a corner that is none of the foot's vertices, one byte each. */
function trianglesNotOf(foot: Mesh, last: Mesh): Uint8Array {
  const { triangles } = last;
  const same = sameVertices(last, foot);
  const out = new Uint8Array(triangles.length / 3);
  for (let h = 0; h < triangles.length; h++) if (same[triangles[h]] < 0) out[Math.floor(h / 3)] = 1;
  return out;
}

/** Which vertices of the last repair made. A body that was cut is ordered anew, but its vertices away from the cut are in place. */
function filledOf(last: Mesh, { mesh, filled }: LastBody): Uint8Array {
  return Uint8Array.from(sameVertices(last, mesh), (v) => (v < 0 ? 0 : filled[v]));
}

/** The measures of the last at the stations of its foot. As on the cast, a tape does not feel the finest noise. */
function measureLast(mesh: Mesh, filled: Uint8Array, { landmarks, side }: LastBody, wholeTo: number): readonly Measurement[] {
  const measurements = takeLastMeasures(feltSurface(mesh, filled), landmarks, { side, on: 'last', roughness: 0, wholeTo });
  if (measurements === null) throw new Error('the last of a measured cast has no heel or ball');
  return measurements;
}

const notSolid = (error: SolidError): CastError =>
  new CastError(
    'last-not-solid',
    `The cleaned cast cannot be closed to a solid (${error.code}).`,
    'Look in the scan for places where the surface crosses or touches itself, mend them in the scanner\'s program, and try again.',
  );
