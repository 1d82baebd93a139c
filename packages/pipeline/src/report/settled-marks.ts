import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { InspectedCast, Mark, MeasuredCast } from '../records.js';

/** The marks with their centres carried from the frame they were found in to the settled frame of the report. */
export function settledMarks(inspected: InspectedCast, measured: Pick<MeasuredCast, 'settle'>): Mark[] {
  return inspected.marks.map((mark) => {
    const [x, y, z] = transformPositions(measured.settle, Float64Array.from(mark.centre));
    return { ...mark, centre: [x, y, z] };
  });
}
