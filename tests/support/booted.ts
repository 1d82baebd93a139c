import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { CheckContext } from '@cast-to-last/pipeline/checks/check-context';
import type { Casting } from '@cast-to-last/pipeline/order';
import { checkContext } from './check-context.ts';
import { castOf } from './marked.ts';
import { landmarksFor, plateSole } from './standing.ts';
import type { Plates } from './standing.ts';

/** A bed whose rear plate goes down by `heel` degrees and whose front plate rises by `toe`. */
export const bedOf = (heel: number, toe: number): NonNullable<Casting['footbed']> => ({
  heelHeightMm: 180 * Math.sin((heel * Math.PI) / 180), hingeHeightMm: 0, toeHeightMm: 80 * Math.sin((toe * Math.PI) / 180), heelToHingeMm: 180, hingeToToeMm: 80,
});

export interface Booted extends Plates {
  readonly casting?: Casting;
  readonly landmarks?: Partial<Landmarks>;
  readonly changes?: Partial<CheckContext>;
}

/** A cast that is a sole on two plates and nothing else. */
export function onPlates({ casting = {}, landmarks = {}, changes = {}, ...plates }: Booted): CheckContext {
  return bodyContext(plateSole(plates), { casting, landmarks, changes, side: plates.side ?? 'right' });
}

/** What the check reads of a body of any shape. */
export function bodyContext(
  mesh: Mesh, { casting = {}, landmarks = {}, changes = {}, side = 'right' }: Pick<Booted, 'casting' | 'landmarks' | 'changes' | 'side'>,
): CheckContext {
  const aligned = { ...castOf(mesh), side, landmarks: landmarksFor(side, landmarks) };
  return checkContext(aligned, { casting, ...changes });
}
