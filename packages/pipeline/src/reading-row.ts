import type { CastCheck, Reading } from './records.js';

/** A reading in words, for tables on paper and on a terminal. */
export interface ReadingRow {
  readonly label: string;
  /** Value ± uncertainty with its unit; 'not read' where there is none. */
  readonly measured: string;
  /** '' where nothing is wanted. */
  readonly wanted: string;
  /** Deviations from what is wanted beyond which it needs care, or a new cast; '' where there is no limit. */
  readonly care: string;
  readonly recast: string;
  readonly state: ReadingState;
  /** Why it could not be read. */
  readonly why: string;
}

/** What became of a reading: of a finding its severity; '' where it is only told. */
export type ReadingState = 'recast' | 'care' | 'note' | 'in order' | 'not read' | '';

/** A figure as the tables show it: one decimal with its unit, a bare ratio two. */
export function figureWithUnit(value: number, unit: string, uncertainty: number | null = null): string {
  const decimals = unit === '' ? 2 : 1;
  const shown = value.toFixed(decimals).replace(/^-(?=0\.?0*$)/, '').replace('-', '−');
  // Never ± 0: what is less than the last decimal shows as one of it.
  const around = uncertainty === null ? '' : ` ± ${Math.max(10 ** -decimals, uncertainty).toFixed(decimals)}`;
  if (unit === '') return `${shown}${around}`;
  return unit === 'deg' || unit === '°' ? `${shown}${around}°` : `${shown}${around} ${unit}`;
}

/** Every reading of a check as a row, in the check's order. */
export function readingRows({ readings, findings }: Pick<CastCheck, 'readings' | 'findings'>): ReadingRow[] {
  const figure = (value: number | null, unit: string): string => (value === null ? '' : figureWithUnit(value, unit));
  return readings.map((r) => ({
    label: r.label,
    measured: r.value === null ? 'not read' : figureWithUnit(r.value, r.unit, r.uncertainty),
    wanted: figure(r.wanted, r.unit),
    care: figure(r.care, r.unit),
    recast: figure(r.recast, r.unit),
    state: stateOf(r, findings.find((f) => f.code === r.id)?.severity),
    why: r.why,
  }));
}

function stateOf({ value, wanted, care, recast }: Reading, severity: ReadingState | undefined): ReadingState {
  if (severity !== undefined) return severity;
  if (value === null) return 'not read';
  return care === null && recast === null && wanted === null ? '' : 'in order';
}
