import type { Reading } from '../records.js';

type Named = Pick<Reading, 'id' | 'label' | 'unit'>;

/** A reading; what is left out is null. */
export const readingOf = (named: Named & Partial<Reading>): Reading => ({
  value: null, uncertainty: null, wanted: null, care: null, recast: null, why: '', at: null, ...named,
});

/** One that cannot be taken, with one sentence on why. */
export const unread = (named: Named & Partial<Reading>, why: string): Reading => readingOf({ ...named, value: null, uncertainty: null, why });
