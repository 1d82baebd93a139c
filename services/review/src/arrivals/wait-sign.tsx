import type { WaitsFor } from '../server/arrivals.js';
import type { Verdict } from '../server/results.js';
import { VERDICT_WORDS, WAIT_WORDS } from './wait-words.js';

/** Strokes in a field of 24 × 24: one shape for each thing that a cast may wait for. */
const SHAPES: Readonly<Record<WaitsFor, string>> = {
  post: 'M3 8h18v12H3zM3 8l2-4h14l2 4M12 4v9l2-1.5L16 13V4',
  drying: 'M12 3c4 5 6 7.5 6 11a6 6 0 0 1-12 0c0-3.500 2-6 6-11zM9 15a3 3 0 0 0 3 3',
  scan: 'M4 8V4h4M16 4h4v4M20 16v4h-4M8 20H4v-4M4 12h16',
  work: 'M12 4a8 8 0 1 1-7.500 5.200M4 4l.5 5.200 5-1',
  trouble: 'M8 3h8l5 5v8l-5 5H8l-5-5V8zM12 7v6M12 16.500v.5',
  maker: 'M2 12c3-5 6-7 10-7s7 2 10 7c-3 5-6 7-10 7s-7-2-10-7zM12 9a3 3 0 1 0 .01 0',
  'sent-back': 'M9 5L4 10l5 5M4 10h10a6 6 0 0 1 0 10h-4',
  recast: 'M5 5l14 14M19 5L5 19',
  replaced: 'M4 8h13l-3-3M20 16H7l3 3',
  done: 'M4 13l5 5L20 6',
};

export function WaitSign({ waits }: { readonly waits: WaitsFor }) {
  return <svg class={`wait-sign whose-${WAIT_WORDS[waits].whose}`} viewBox="0 0 24 24" aria-hidden="true"><path d={SHAPES[waits]} /></svg>;
}

const VERDICT_SHAPES: Readonly<Record<Verdict, string>> = {
  usable: 'M12 2a10 10 0 1 0 .01 0M7 12.500l3.500 3.500L17 9', 'usable-with-care': 'M12 3L22 20.500H2zM12 9.500v5M12 17.300v.5', recast: 'M7.500 2h9L22 7.500v9L16.500 22h-9L2 16.500v-9zM8 8l8 8M16 8l-8 8',
};

export function VerdictSign({ verdict }: { readonly verdict: Verdict }) {
  return <svg class={`wait-sign is-${VERDICT_WORDS[verdict].kind}`} viewBox="0 0 24 24" aria-hidden="true"><path d={VERDICT_SHAPES[verdict]} /></svg>;
}
