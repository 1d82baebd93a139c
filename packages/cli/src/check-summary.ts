import { readingReasons, readingRows } from '@cast-to-last/pipeline/report/reading-row';
import type { CheckReport } from '@cast-to-last/pipeline/report/report';
import { verdictLines } from './verdict-lines.js';

/** The verdict, what is wrong, and every reading with its limits. */
export function checkSummary(report: CheckReport, orderNumber: string): string {
  const rows = readingRows(report.castCheck).map((r) => [r.label, r.measured, r.wanted, r.care, r.recast, r.state]);
  const head = ['reading', 'measured', 'wanted', 'care beyond', 'recast beyond', ''];
  const widths = head.map((_, i) => Math.max(...[head, ...rows].map((row) => row[i].length)));
  const table = [head, ...rows].map((row) => `  ${row.map((cell, i) => (i === 0 || i === row.length - 1 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join('  ')}`.trimEnd());
  const reasons = readingReasons(report.castCheck).map((reason) => `  ${reason}`);
  return `${[...verdictLines(report, orderNumber), '', ...table, ...reasons].join('\n')}\n`;
}
