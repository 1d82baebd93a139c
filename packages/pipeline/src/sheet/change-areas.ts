import { depthContours } from '@cast-to-last/geometry/views/contour-lines';
import type { View } from '@cast-to-last/geometry/views/view';
import type { SheetMapView } from '@cast-to-last/sheet/measurement/content';

/** Steps of the map, mm: each is a hatching of its own. */
export const CHANGE_STEPS = [0.5, 2, 5, 10] as const;
/** A place of fewer samples is noise. */
const LEAST_SAMPLES = 6;
/** Numbers that one view bears, and how near two of them may stand, mm. */
const MOST_PEAKS = 6;
const BESIDE = 30;

/** A connected place beyond the first step: its samples, and the one with the most change. */
interface Place {
  readonly samples: readonly number[];
  readonly most: number;
}

/** What a field of changes shows: the areas beyond each step, outside first, the least first, and the most in each place. */
export function changesShown(view: View, field: Float32Array): Pick<SheetMapView, 'changes' | 'peaks'> {
  const calm = field.slice();
  const places: Place[] = [];
  for (const place of placesOf(view, field)) {
    if (place.samples.length >= LEAST_SAMPLES) places.push(place);
    else for (const k of place.samples) calm[k] = 0;
  }
  return { changes: areasOf(view, calm), peaks: peaksOf(view, field, places) };
}

function areasOf(view: View, field: Float32Array): SheetMapView['changes'] {
  return [1, -1].flatMap((way) => {
    const depth = Float32Array.from(field, (change) => (Number.isNaN(change) ? 0 : Math.max(0, way * change)));
    const lines = depthContours({ ...view, depth }, CHANGE_STEPS);
    return CHANGE_STEPS.map((step, i) => ({ beyond: way * step, areas: lines[i].filter((line) => line.closed) }));
  });
}

function placesOf({ columns, rows }: View, field: Float32Array): Place[] {
  const seen = new Uint8Array(field.length);
  const places: Place[] = [];
  for (let start = 0; start < field.length; start++) {
    if (seen[start] === 1 || !(Math.abs(field[start]) >= CHANGE_STEPS[0])) continue;
    const way = Math.sign(field[start]);
    const samples = [start];
    let most = start;
    seen[start] = 1;
    for (let i = 0; i < samples.length; i++) {
      const k = samples[i];
      if (way * field[k] > way * field[most]) most = k;
      const column = k % columns;
      for (const [next, inside] of [[k - 1, column > 0], [k + 1, column + 1 < columns], [k - columns, k >= columns], [k + columns, k < (rows - 1) * columns]] as const) {
        if (!inside || seen[next] === 1 || !(way * field[next] >= CHANGE_STEPS[0])) continue;
        seen[next] = 1;
        samples.push(next);
      }
    }
    places.push({ samples, most });
  }
  return places;
}

/** The largest first; none beside a larger one of the same sign. */
function peaksOf({ columns, cell, origin }: View, field: Float32Array, places: readonly Place[]): SheetMapView['peaks'] {
  const all = places
    .map(({ most }) => ({ at: [origin[0] + (most % columns) * cell, origin[1] + Math.floor(most / columns) * cell] as const, value: field[most] }))
    .sort((a, b) => Math.abs(b.value) - Math.abs(a.value));
  const shown: typeof all = [];
  for (const peak of all) {
    const near = shown.some((other) => other.value * peak.value > 0 && Math.hypot(other.at[0] - peak.at[0], other.at[1] - peak.at[1]) < BESIDE);
    if (!near && shown.length < MOST_PEAKS) shown.push(peak);
  }
  return shown;
}
