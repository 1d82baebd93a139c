import type { Report } from '@cast-to-last/pipeline/report/report';
import { verdictLines } from './verdict-lines.js';

const MAIN_MEASURES = ['foot-length', 'ball-girth', 'instep-girth', 'short-heel-girth', 'foot-breadth'];

/** What the person at the bench wants to know at once, the verdict first; the rest is in the files. */
export function summary(report: Report, orderNumber: string, folder: string, fileNames: readonly string[]): string {
  const lines = verdictLines(report, orderNumber);
  for (const id of MAIN_MEASURES) {
    const m = report.measurements.find((other) => other.id === id && other.on === 'cast');
    if (m === undefined) continue;
    lines.push('value' in m ? `  ${m.label}: ${m.value.toFixed(1)} ± ${Math.max(0.1, m.uncertainty).toFixed(1)} mm` : `  ${m.label}: absent. ${m.absent}`);
  }
  const { parisPoint, uk } = report.sizes;
  lines.push(`  size: Paris point ${parisPoint}, UK ${uk ?? 'none'} (the report names the convention)`);
  const count = (decision: string): number => report.marks.filter((m) => m.decision === decision).length;
  lines.push(`  marks: ${count('smooth')} smoothed, ${count('ask')} for the maker to decide, ${count('keep')} kept`);
  lines.push(`written to ${folder}: ${fileNames.join(', ')}`);
  return `${lines.join('\n')}\n`;
}
