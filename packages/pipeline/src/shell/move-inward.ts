import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { offsetInward } from '@cast-to-last/geometry/offset/offset';
import { CastError } from '../errors.js';
import type { RepairedCast, ShelledCast, Wall } from '../records.js';

/** The inside of a shell may not hold less than this share of what its outside holds, nor lose more than this share of its surface behind thin places. */
const LEAST_LEFT = 0.25;
const MOST_CUT_OFF = 0.06;

/**
 * The inside of a shell whose outside was scanned.
 *
 * @throws CastError `wall-too-thick`
 */
export function moveInward(repaired: RepairedCast, wall: Wall): ShelledCast {
  const { mesh, opening, filled, crossings, cutOff } = offsetInward(repaired.mesh, repaired.filled, wall.mm);
  if (mesh.triangles.length === 0 || cutOff > MOST_CUT_OFF || signedVolume(mesh) < LEAST_LEFT * signedVolume(repaired.mesh)) {
    throw new CastError(
      'wall-too-thick',
      `A wall of ${wall.mm.toFixed(1)} mm leaves no foot inside this shell.`,
      'Check the wall (--wall, or plaster in the order), and that the file is the scan of the outside.',
    );
  }
  const warnings = [...repaired.warnings];
  if (wall.how === 'layers') {
    warnings.push(`The wall was reckoned from the layers of bandage, ${wall.mm.toFixed(1)} ± ${wall.uncertainty.toFixed(1)} mm; measure it at the cut edge for closer measures.`);
  }
  if (crossings > 0) warnings.push('The inner surface that was made from the outside folds over itself at a place; look at it before a last is made.');
  return { ...repaired, mesh, opening, filled, warnings, wall, offsetUncertainty: wall.uncertainty, thickness: null };
}
