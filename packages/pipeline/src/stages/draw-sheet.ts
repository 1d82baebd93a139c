import { drawSheet } from '@cast-to-last/sheet/measurement/draw-sheet';
import type { CastOutcome } from '../outcome.js';
import { buildReport } from '../report/report.js';
import { sheetContent } from '../sheet/sheet-content.js';
import type { SheetForm, SheetHeader } from '../sheet/sheet-content.js';
import type { SheetReport } from '../sheet/sheet-report.js';
import { sheetJson } from '../sheet/sheet-json.js';
import { shapesOfOutcome } from '../sheet/sheet-shapes.js';
import type { SheetShapes } from '../sheet/sheet-shapes.js';

/** The sheet as it is printed, and the same as JSON. */
export interface DrawnSheet {
  readonly pdf: Uint8Array;
  readonly json: Uint8Array;
}

/** What the host says of the run beside the header: as on the report. */
export interface SheetRun {
  readonly fileName: string;
  readonly programVersion: string;
  readonly warnings?: readonly string[];
}

/** draw-sheet: the measurement sheet of an outcome. */
export function drawOutcomeSheet(outcome: CastOutcome, header: SheetHeader, run: SheetRun): Promise<DrawnSheet> {
  return drawReportSheet(buildReport(outcome, { ...run, stages: [] }), shapesOfOutcome(outcome), header, outcome.rules.sheet);
}

/** The same from a report and the shapes that it is about. */
export async function drawReportSheet(report: SheetReport, shapes: SheetShapes, header: SheetHeader, form: SheetForm): Promise<DrawnSheet> {
  const content = sheetContent(report, shapes, header, form);
  return { pdf: await drawSheet(content), json: new TextEncoder().encode(sheetJson(content, header, shapes)) };
}
