import type { ComparedFigure } from '@cast-to-last/pipeline/pair/compared-cast';
import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { textTable } from './text-table.js';

const signed = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : Number(text) === 0 ? (0).toFixed(decimals) : text;
};

/** What is found, every figure that both casts have, and how far the surfaces lie apart. */
export function compareSummary(report: ComparisonReport, written: { readonly folder: string; readonly names: readonly string[] } | null): string {
  const { casts: [first, second], relation, measures, readings, findings, registration, deviation } = report;
  const things = first.of === second.of && first.of !== 'file' ? `${first.of}s` : 'surfaces';
  const what = relation === 'other-side' ? `${first.side} (mirrored) and ${second.side}` : `two ${things} of the ${first.side} foot`;
  const lines = [`${what}: ${first.file}, ${second.file}`];
  if (findings.length === 0) lines.push('  nothing differs by more than the rules let pass');
  for (const { severity, text } of findings) lines.push(`  ${severity}: ${text}`);
  lines.push('', ...textTable(['', 'first', 'second', 'difference', 'limit', ''], [...measures, ...readings].map(row), ['left', 'right', 'right', 'right', 'right', 'left']));
  lines.push('', `  the first stands off the second, mm (up to ${deviation.upToMm.toFixed(0)} mm high; ${(100 * registration.usedShare).toFixed(0)} % of the foot is alike, within ${registration.rmsMm.toFixed(2)} mm RMS):`);
  const parts = [...deviation.regions.map((r) => ({ name: r.region as string, ...r })), ...(deviation.overall === null ? [] : [{ name: 'all', ...deviation.overall }])];
  lines.push(...textTable(['', 'median', '95 % within'], parts.map((p) => [p.name, signed(p.medianMm, 2), p.p95Mm.toFixed(2)]), ['left', 'right', 'right']));
  if (written !== null) lines.push(`written to ${written.folder}: ${written.names.join(', ')}`);
  return `${lines.join('\n')}\n`;
}

const row = (f: ComparedFigure): string[] => [
  f.unit === '' ? f.label : `${f.label}, ${f.unit}`, f.first.toFixed(f.unit === '' ? 2 : 1), f.second.toFixed(f.unit === '' ? 2 : 1),
  `${signed(f.difference, f.unit === '' ? 2 : 1)} ± ${f.uncertainty.toFixed(f.unit === '' ? 2 : 1)}`, f.limit === null ? '' : String(f.limit), f.beyond ? 'beyond' : '',
];
