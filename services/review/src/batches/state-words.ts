import type { BatchState } from '../server/batch-types.js';

/** A sign beside each word, so that colour says nothing alone. */
export const STATE_WORDS: Readonly<Record<BatchState, { readonly sign: string; readonly words: string }>> = {
  running: { sign: '▶', words: 'being made' },
  paused: { sign: '❙❙', words: 'paused' },
  cancelled: { sign: '✕', words: 'ended early' },
  ended: { sign: '●', words: 'made' },
};
