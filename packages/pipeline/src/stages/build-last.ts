import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Measurement } from '@cast-to-last/foot/measures';
import { takeLastMeasures } from '@cast-to-last/foot/take-measures';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { SolidError, withSolids } from '@cast-to-last/geometry/solid';
import { CastError } from '../errors.js';
import { closeTop } from '../last/close-top.js';
import type { LastBody, LastStep } from '../last/last-body.js';
import { shapeLast } from '../last/shape-last.js';
import type { LastRules } from '../last-rules.js';
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
 * @throws CastError those of `shapeLast` and `closeTop`; `last-not-solid` where the surface cannot be closed to a solid
 */
export async function buildLast(
  measured: MeasuredCast, aligned: Pick<AlignedCast, 'opening' | 'filled' | 'side'>, rules: LastRules, particulars: LastParticulars = NO_PARTICULARS,
): Promise<Last> {
  const cast = castBody(measured, aligned);
  const shaped = shapeLast(cast, rules, particulars.footbed);
  // A last that nothing was done to has the cast's own surface and so its measures: its cap is no part of the foot.
  const asMeasured = shaped.body === cast ? measured.measurements : null;
  return finishLast(shaped, rules, particulars, asMeasured);
}

/**
 * Closes a shaped body and measures what came of it.
 *
 * @param asMeasured measures of a body that has the cast's own surface; else null
 */
export async function finishLast({ body, changes, warnings }: LastStep, rules: LastRules, { orderNumber }: LastParticulars, asMeasured: readonly Measurement[] | null): Promise<Last> {
  const closed = await solid((scope) => closeTop(scope, body, rules, orderNumber === null ? null : { orderNumber }));
  const measurements = asMeasured !== null && closed.changes.length === 0 && closed.top === null
    ? asMeasured.map((m): Measurement => ({ ...m, on: 'last' }))
    : measureLast(closed.mesh, filledOf(closed.mesh, body), body, closed.wholeTo);
  return {
    mesh: closed.mesh,
    volume: closed.volume,
    manifold: true,
    allowances: { toeMm: rules.toeAllowanceMm, topHeightMm: rules.topHeightMm, changes: [...changes, ...closed.changes] },
    warnings: [...warnings, ...closed.warnings],
    measurements,
  };
}

const solid: typeof withSolids = async (work) => {
  try {
    return await withSolids(work);
  } catch (error) {
    if (error instanceof SolidError) throw notSolid(error);
    throw error;
  }
};

/** Which vertices of the last repair made. A body that was cut is ordered anew, but its vertices away from the cut are in place. */
function filledOf(last: Mesh, { mesh, filled }: LastBody): Uint8Array {
  const out = new Uint8Array(last.positions.length / 3);
  const made = new Map<number, number[]>();
  for (let v = 0; v < filled.length; v++) {
    if (filled[v] === 0) continue;
    const x = Math.fround(mesh.positions[3 * v]);
    const others = made.get(x);
    if (others === undefined) made.set(x, [v]);
    else others.push(v);
  }
  const isSame = (v: number, w: number, k: 1 | 2): boolean => Math.fround(last.positions[3 * v + k]) === Math.fround(mesh.positions[3 * w + k]);
  for (let v = 0; v < out.length; v++) {
    if (made.get(Math.fround(last.positions[3 * v]))?.some((w) => isSame(v, w, 1) && isSame(v, w, 2)) === true) out[v] = 1;
  }
  return out;
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
