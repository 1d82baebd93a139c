import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { drawComparison } from '@cast-to-last/sheet/comparison/draw-comparison';
import type { CastComparison } from '../pair/compare-casts.js';
import { comparisonContent } from '../pair/comparison-content.js';
import { comparisonMap } from '../pair/comparison-map.js';
import type { ComparisonReport } from '../pair/comparison-report.js';
import type { SheetForm } from '../sheet/sheet-content.js';

/** draw-comparison: the picture of a comparison as a PDF. `second` is the mesh of the second cast. */
export function drawComparisonSheet(report: ComparisonReport, comparison: CastComparison, second: Mesh, form: SheetForm): Promise<Uint8Array> {
  return drawComparison(comparisonContent(report, comparisonMap(comparison, second, report.casts[1].side), form));
}
