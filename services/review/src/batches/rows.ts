import type { BatchItem, Compared } from '../server/batch-types.js';

/** What an item waits for, in the order in which a maker looks for it. */
export type RowState = 'to-decide' | 'tried' | 'making' | 'failed' | 'refused' | 'not-compared' | 'overtaken' | 'accepted' | 'declined' | 'cancelled';

export interface Row {
  readonly item: BatchItem;
  readonly state: RowState;
  readonly compared: Compared | null;
  /** mm by the id of the girth; absent where it came, went or was in neither. */
  readonly girths: ReadonlyMap<string, number>;
}

export const ROW_WORDS: Readonly<Record<RowState, { readonly sign: string; readonly words: string }>> = {
  'to-decide': { sign: '?', words: 'to decide' },
  tried: { sign: '●', words: 'made' },
  making: { sign: '…', words: 'being made' },
  failed: { sign: '!', words: 'failed' },
  refused: { sign: '!', words: 'cannot be made' },
  'not-compared': { sign: '!', words: 'not compared' },
  overtaken: { sign: '↷', words: 'changed meanwhile' },
  accepted: { sign: '✓', words: 'accepted' },
  declined: { sign: '✕', words: 'declined' },
  cancelled: { sign: '–', words: 'not made' },
};

export type Filter = 'all' | 'to-decide' | 'trouble' | 'accepted' | 'declined';
export const FILTERS: readonly (readonly [Filter, string])[] = [['all', 'All'], ['to-decide', 'To decide'], ['trouble', 'Without a result'], ['accepted', 'Accepted'], ['declined', 'Declined']];

/** Of a trial, on which nothing is decided. */
export const TRIAL_FILTERS = FILTERS.filter(([key]) => key === 'all' || key === 'trouble');

export const isTrouble = (state: RowState): boolean => ['failed', 'refused', 'not-compared', 'overtaken', 'cancelled'].includes(state);

function stateOf({ verdict, state, comparison, overtaken, revisionId }: BatchItem, trial: boolean): RowState {
  if (verdict !== null) return verdict;
  if (revisionId === null) return 'cancelled';
  if (state === 'refused') return 'refused';
  if (state === 'failed' || state === 'set-aside') return 'failed';
  if (state === 'cancelled') return 'cancelled';
  if (state === 'waiting' || comparison === null) return 'making';
  if ('problem' in comparison) return 'not-compared';
  if (trial) return 'tried';
  return overtaken ? 'overtaken' : 'to-decide';
}

/** `trial`: nothing is decided on. */
export function rowOf(item: BatchItem, trial: boolean): Row {
  const compared = item.comparison === null || 'problem' in item.comparison ? null : item.comparison;
  const girths = new Map((compared?.girths ?? []).flatMap(({ id, before, after }) => (before === null || after === null ? [] : [[id, after - before] as const])));
  return { item, state: stateOf(item, trial), compared, girths };
}

/** `largest`, `rms`, `order`, `marks`, or the id of a girth. */
export interface Sorting {
  readonly by: string;
  readonly down: boolean;
}

const keyOf = ({ item, compared, girths }: Row, by: string): number | string => {
  if (by === 'order') return `${item.orderNumber ?? ''} ${item.side ?? ''}`;
  if (compared === null) return -Infinity;
  if (by === 'largest') return compared.maxMm;
  if (by === 'rms') return compared.rmsMm;
  if (by === 'marks') return compared.marksCame.length + compared.marksWent.length;
  return Math.abs(girths.get(by) ?? 0);
};

const compare = new Intl.Collator('en', { numeric: true }).compare;

/** The rows of a filter and a search, sorted; those without a figure last, whichever way. */
export function sortedRows(rows: readonly Row[], filter: Filter, search: string, { by, down }: Sorting): Row[] {
  const wanted = search.trim().toLowerCase();
  const kept = rows.filter(({ state, item }) =>
    (filter === 'all' || (filter === 'trouble' ? isTrouble(state) : state === filter)) && (wanted === '' || (item.orderNumber ?? '').toLowerCase().includes(wanted)));
  return kept.sort((a, b) => {
    const [x, y] = [keyOf(a, by), keyOf(b, by)];
    if (x !== y && (x === -Infinity || y === -Infinity)) return x === -Infinity ? 1 : -1;
    const order = x === y ? 0 : typeof x === 'string' ? compare(x, String(y)) : x - Number(y);
    return (down ? -order : order) || compare(a.item.orderNumber ?? '', b.item.orderNumber ?? '');
  });
}

/** Girths that any row has, in the order of the trade: from the ball backward. */
export function girthColumns(rows: readonly Row[]): (readonly [string, string])[] {
  const seen = new Map<string, string>();
  for (const { compared } of rows) for (const { id, label } of compared?.girths ?? []) seen.set(id, label);
  return [...seen].map(([id, label]) => [id, label.replace(/ girth$/, '')] as const);
}
