import type { CastState } from '../server/results.js';

/** A sign beside each word, so that colour says nothing alone. */
export const CAST_WORDS: Readonly<Record<CastState, { readonly sign: string; readonly words: string }>> = {
  'awaiting-scan': { sign: '○', words: 'not scanned yet' },
  'in-work': { sign: '…', words: 'being worked on' },
  'to-review': { sign: '?', words: 'with the maker' },
  approved: { sign: '✓', words: 'approved' },
  'sent-back': { sign: '↩', words: 'sent back' },
  recast: { sign: '↻', words: 'to be cast again' },
};

export const ORDER_WORDS = { open: 'open', closed: 'closed', cancelled: 'cancelled' } as const;
