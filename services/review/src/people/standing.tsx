import type { Scanner } from '../server/scanners.js';

/** How a scanner stands, in a word with its sign. */
export function Standing({ scanner: { retiredAt, verdict, goodUntil } }: { readonly scanner: Pick<Scanner, 'retiredAt' | 'verdict' | 'goodUntil'> }) {
  if (retiredAt !== null) return <span class="scanner-standing quiet">not in use</span>;
  if (verdict === null) return <span class="scanner-standing is-care">! not checked</span>;
  if (verdict === 'out-of-limits') return <span class="scanner-standing is-bad">✕ out of limits</span>;
  const stale = goodUntil !== null && goodUntil < new Date().toISOString().slice(0, 10);
  return stale ? <span class="scanner-standing is-care">! check is out of date</span> : <span class="scanner-standing is-good">✓ within limits</span>;
}
