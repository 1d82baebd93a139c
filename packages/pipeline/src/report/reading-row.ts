import type { CastCheck, Reading } from '../records.js';

/** A reading in words, for tables on paper and on a terminal. */
export interface ReadingRow {
  readonly label: string;
  /** Value ± uncertainty with its unit; 'not read' where there is none. */
  readonly measured: string;
  /** In the same unit; '' where nothing is wanted. */
  readonly wanted: string;
  /** Deviations from what is wanted beyond which it needs care, or a new cast; '' where there is no limit. */
  readonly care: string;
  readonly recast: string;
  readonly state: ReadingState;
}

/** What became of a reading: of a finding its severity; '' where it is told without limits. */
export type ReadingState = 'recast' | 'care' | 'note' | 'in order' | 'not read' | '';

/** What no table shows unless something is wrong with it: there are many, and the report holds them all. */
const QUIET = /^(population|missing)-/;

/** Decimals of a figure: one; of a bare ratio two, of an area none. */
const decimalsOf = (unit: string): number => (unit === '' ? 2 : unit === 'mm²' ? 0 : 1);

/** A figure without its unit, with a true minus and without one before 0. */
function figure(value: number, unit: string): string {
  return value.toFixed(decimalsOf(unit)).replace(/^-(?=[0.]+$)/, '').replace('-', '−');
}

/** A figure with its unit, and what it is uncertain by where that is known: never ± 0, but one of the last decimal. */
export function figureWithUnit(value: number, unit: string, uncertainty: number | null = null): string {
  const around = uncertainty === null ? '' : ` ± ${figure(Math.max(10 ** -decimalsOf(unit), uncertainty), unit)}`;
  const after = unit === '' ? '' : unit === 'deg' || unit === '°' ? '°' : ` ${unit}`;
  return `${figure(value, unit)}${around}${after}`;
}

/** The readings that a table shows, as rows, in the check's order. */
export function readingRows({ readings, findings }: Pick<CastCheck, 'readings' | 'findings'>): ReadingRow[] {
  const severityOf = ({ id }: Reading) => findings.find((f) => f.code === id)?.severity;
  const limit = (value: number | null, unit: string): string => (value === null ? '' : figure(value, unit));
  return readings
    .filter((r) => !QUIET.test(r.id) || severityOf(r) !== undefined)
    .map((r) => ({
      label: r.label,
      measured: r.value === null ? 'not read' : figureWithUnit(r.value, r.unit, r.uncertainty),
      wanted: limit(r.wanted, r.unit),
      care: limit(r.care, r.unit),
      recast: limit(r.recast, r.unit),
      state: stateOf(r, severityOf(r)),
    }));
}

function stateOf({ value, care, recast }: Reading, severity: ReadingState | undefined): ReadingState {
  if (severity !== undefined) return severity;
  if (value === null) return 'not read';
  return care === null && recast === null ? '' : 'in order';
}

/** Why readings could not be taken or weighed, each reason once after the names of those that it holds for. */
export function readingReasons({ readings }: Pick<CastCheck, 'readings'>): string[] {
  const reasons = new Map<string, string[]>();
  for (const { why, label } of readings) if (why !== '') reasons.set(why, [...(reasons.get(why) ?? []), label]);
  return [...reasons].map(([why, labels]) => `${labels.join(', ')}: ${why}`);
}
