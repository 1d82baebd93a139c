import type { Side } from '@cast-to-last/foot/side';
import { capCone } from '@cast-to-last/geometry/repair/cap-cone';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { viewValues } from '@cast-to-last/geometry/views/view-values';
import type { SheetMapView } from '@cast-to-last/sheet/measurement/content';
import type { CastComparison } from './compare-casts.js';
import { bodyViews, thinned } from '../sheet/body-views.js';
import { changesShown } from '../sheet/change-areas.js';
import { viewContours } from '../sheet/view-contours.js';

/** Distance between the samples of outlines and contours, mm: the map is drawn small. */
const SAMPLE = 1;
/** Every so many samples one for the deviation. */
const THIN = 2;
/** Height between contour lines, mm. */
const CONTOUR_STEP = 10;
/** A boundary loop of fewer vertices is no top, but a small hole. */
const LEAST_LOOP = 12;

/**
 * How far the first body stands off the second, seen from four sides: the deviations of the comparison, in the second's foot
 * frame. On each view `cast` is the second's outline and `last` the first's.
 */
export function comparisonMap({ laid, map }: Pick<CastComparison, 'laid' | 'map'>, second: Mesh, side: Side): SheetMapView[] {
  // Through an open top the inside of the sole would be seen.
  const [first, other] = [laid, second].map((mesh) => bodyViews(topped(mesh), side, SAMPLE));
  return (['top', 'sole', 'inner', 'outer'] as const).map((view): SheetMapView => {
    const coarse = thinned(first[view].view, THIN);
    return {
      view, cast: other[view].outline, last: first[view].outline, contours: viewContours(other[view].view, CONTOUR_STEP),
      ...changesShown(coarse, viewValues(coarse, laid, map.deviation)), marks: [],
    };
  });
}

const topped = (mesh: Mesh): Mesh => boundaryLoops(mesh).filter((loop) => loop.length >= LEAST_LOOP).reduce((closed, loop) => capCone(closed, loop, [0, 0, 1]), mesh);
