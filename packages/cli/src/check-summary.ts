import { readingReasons, readingRows } from '@cast-to-last/pipeline/report/reading-row';
import type { CheckReport } from '@cast-to-last/pipeline/report/report';
import { textTable } from './text-table.js';
import { verdictLines } from './verdict-lines.js';

/** The verdict, what is wrong, and every reading with its limits. */
export function checkSummary(report: CheckReport, orderNumber: string): string {
  const rows = readingRows(report.castCheck).map((r) => [r.label, r.measured, r.wanted, r.care, r.recast, r.state]);
  const table = textTable(['reading', 'measured', 'wanted', 'care beyond', 'recast beyond', ''], rows, ['left', 'right', 'right', 'right', 'right', 'left']);
  const reasons = readingReasons(report.castCheck).map((reason) => `  ${reason}`);
  return `${[...verdictLines(report, orderNumber), '', ...table, ...reasons].join('\n')}\n`;
}
