import type { RepairedCast, ScanKind, ShelledCast } from '../records.js';
import type { WallKnown } from '../shell/wall.js';
import { knownWall } from '../shell/wall.js';

/**
 * The foot's own surface, whatever side of the plaster was scanned: a positive and the inside of a shell are it, the
 * outside is moved inward by the wall. Where both sides were scanned the inner one is taken, and the wall is measured.
 *
 * @throws CastError `wall-unknown`, `wall-too-thick`
 */
export async function shellCast(repaired: RepairedCast, kind: ScanKind, known: WallKnown | null): Promise<ShelledCast> {
  if (kind === 'positive' || known === null) return { ...repaired, wall: null, offsetUncertainty: 0, thickness: null };
  if (repaired.outerSheet !== null) {
    // What asks for nearest points takes a tenth of a second to load, so a positive does not load it.
    const { measureWall } = await import('../shell/measure-wall.js');
    return measureWall(repaired, repaired.outerSheet, kind);
  }
  if (kind === 'inside') return { ...repaired, wall: null, offsetUncertainty: 0, thickness: null };
  const wall = knownWall(known);
  const { moveInward } = await import('../shell/move-inward.js');
  return moveInward(repaired, wall);
}
