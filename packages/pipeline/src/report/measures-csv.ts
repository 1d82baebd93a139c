import type { Report } from './report.js';

const HEADER = ['id', 'label', 'on', 'value', 'unit', 'uncertainty', 'absent', 'before', 'asked'];

/** A field as RFC 4180 has it; a text that a spreadsheet would take for a formula gets a leading apostrophe. */
function field(content: string): string {
  const harmless = /^[=+@\t\r]|^-(?!\d)/.test(content) ? `'${content}` : content;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/**
 * measures.csv: one row a measure in the report's order, then one a change from cast to last (`on` is `change`, the value
 * what was got); RFC 4180, decimal point, line ends CR LF.
 */
export function measuresCsv({ measurements, last }: Pick<Report, 'measurements'> & { readonly last?: Pick<Report['last'], 'allowances'> }): string {
  const measures = measurements.map((m) =>
    'value' in m
      ? [m.id, m.label, m.on, m.value.toFixed(2), m.unit, m.uncertainty.toFixed(2), '', '', '']
      : [m.id, m.label, m.on, '', '', '', m.absent, '', ''],
  );
  const changes = (last?.allowances.changes ?? []).map((c) => [c.id, c.label, 'change', c.got.toFixed(2), c.unit, '', '', c.before.toFixed(2), c.asked?.toFixed(2) ?? '']);
  return [HEADER, ...measures, ...changes].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}
