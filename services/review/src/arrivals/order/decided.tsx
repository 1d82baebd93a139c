import { useAsked } from '../../parts/use-asked.js';
import { atTime } from '../../parts/times.js';
import type { ArrivedCast } from '../../server/arrivals.js';

interface Approval {
  readonly id: string;
  readonly verdict: 'approved' | 'sent-back' | 'recast';
  readonly reason: string | null;
  readonly createdAt: string;
}

const SAYS: Readonly<Record<Approval['verdict'], string>> = { approved: 'Approved', 'sent-back': 'Sent back by the maker', recast: 'To be cast again' };

/** What was decided last, and why, where that is what the cast waits for. */
export function Decided({ cast: { id, waits, since } }: { readonly cast: ArrivedCast }) {
  const decided = waits === 'sent-back' || waits === 'recast' || waits === 'replaced' || waits === 'done';
  const list = useAsked<{ items: readonly Approval[] }>(decided ? `/casts/${id}/approvals?at=${since}` : null);
  const last = list.body?.items[0];
  if (last === undefined) return null;
  return (
    <div class={`decided-part is-${last.verdict}`}>
      <p><strong>{SAYS[last.verdict]}</strong> <span class="quiet small">{atTime(last.createdAt)}</span></p>
      {last.reason !== null && <p>{last.reason}</p>}
      {waits === 'sent-back' && <p class="small">Scan it again, or do what the maker asks for: a new scan goes back to the maker by itself.</p>}
    </div>
  );
}
