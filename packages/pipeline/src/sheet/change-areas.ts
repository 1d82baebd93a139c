import { depthContours } from '@cast-to-last/geometry/contour-lines';
import type { View } from '@cast-to-last/geometry/view';
import type { SheetMapView } from '@cast-to-last/sheet/content';

/** Steps of the map, mm: each is a hatching of its own. */
export const CHANGE_STEPS = [0.5, 2, 5, 10] as const;
/** A place of fewer samples is noise. */
const LEAST_SAMPLES = 6;
/** Numbers that one view bears. */
const MOST_PEAKS = 6;

/** The areas beyond each step, outside first, the least first. */
export function changeAreas(view: View, field: Float32Array): SheetMapView['changes'] {
  return [1, -1].flatMap((way) => {
    const depth = Float32Array.from(field, (change) => (Number.isNaN(change) ? 0 : Math.max(0, way * change)));
    const lines = depthContours({ ...view, depth }, CHANGE_STEPS);
    return CHANGE_STEPS.map((step, i) => ({ beyond: way * step, areas: lines[i].filter((line) => line.closed) }));
  });
}

/** The most in each connected place beyond the first step, the largest first. */
export function changePeaks({ columns, rows, cell, origin }: View, field: Float32Array): SheetMapView['peaks'] {
  const seen = new Uint8Array(field.length);
  const peaks: { at: readonly [number, number]; value: number }[] = [];
  for (let start = 0; start < field.length; start++) {
    if (seen[start] === 1 || !(Math.abs(field[start]) >= CHANGE_STEPS[0])) continue;
    const way = Math.sign(field[start]);
    const open = [start];
    seen[start] = 1;
    let [count, most] = [0, start];
    for (let k = open.pop(); k !== undefined; k = open.pop()) {
      count++;
      if (way * field[k] > way * field[most]) most = k;
      const column = k % columns;
      for (const [next, inside] of [[k - 1, column > 0], [k + 1, column + 1 < columns], [k - columns, k >= columns], [k + columns, k < (rows - 1) * columns]] as const) {
        if (!inside || seen[next] === 1 || !(way * field[next] >= CHANGE_STEPS[0])) continue;
        seen[next] = 1;
        open.push(next);
      }
    }
    if (count < LEAST_SAMPLES) continue;
    peaks.push({ at: [origin[0] + (most % columns) * cell, origin[1] + Math.floor(most / columns) * cell], value: field[most] });
  }
  return peaks.sort((a, b) => Math.abs(b.value) - Math.abs(a.value)).slice(0, MOST_PEAKS);
}
