import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { identity, transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { settleFrame } from './frame.js';
import type { Wrapped } from './girths.js';
import type { TakeOptions } from './measure-taker.js';
import type { MeasuredFoot } from './take-measures.js';
import { takeMeasures } from './take-measures.js';

/** Measures and landmarks in the surface's own frame. */
export interface StoodFoot extends MeasuredFoot {
  /** From where the surface lay to its own frame. */
  readonly settle: Transform;
}

/**
 * Every measure of a surface that lies near its foot frame, after it was stood in that anew: what changes a surface also
 * moves what it rests on.
 *
 * @returns null where the surface holds no heel or ball
 */
export function measureStanding({ mesh, twin, filled }: Wrapped, options: TakeOptions): StoodFoot | null {
  const settle = settleFrame(mesh, twin, options.side, identity())?.transform ?? identity();
  const taken = takeMeasures({ mesh: transformMesh(settle, mesh), twin, filled }, options);
  return taken === null ? null : { ...taken, settle };
}
