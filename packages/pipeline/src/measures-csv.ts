import type { Report } from './report.js';

const HEADER = ['id', 'label', 'on', 'value', 'unit', 'uncertainty', 'absent'];

/** A field as RFC 4180 has it; a text that a spreadsheet would take for a formula gets a leading apostrophe. */
function field(content: string): string {
  const harmless = /^[=+@\t\r]|^-(?!\d)/.test(content) ? `'${content}` : content;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/** measures.csv: one row a measure, in the report's order; RFC 4180, decimal point, line ends CR LF. */
export function measuresCsv(report: Pick<Report, 'measurements'>): string {
  const rows = report.measurements.map((m) =>
    'value' in m
      ? [m.id, m.label, m.on, m.value.toFixed(2), m.unit, m.uncertainty.toFixed(2), '']
      : [m.id, m.label, m.on, '', '', '', m.absent],
  );
  return [HEADER, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}
