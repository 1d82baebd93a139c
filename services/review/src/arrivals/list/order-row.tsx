import type { Side } from '@cast-to-last/foot/side';
import { ago, atTime, lasting, present } from '../../parts/times.js';
import type { ArrivedCast, ArrivedOrder } from '../../server/arrivals.js';
import type { JobTold } from '../../server/events.js';
import { StageLine } from '../../parts/stage-line.js';
import { VERDICT_WORDS, WAIT_WORDS } from '../wait-words.js';
import { VerdictSign, WaitSign } from '../wait-sign.js';

export interface OrderRowProps {
  readonly order: ArrivedOrder;
  /** News of jobs by cast. */
  readonly told: ReadonlyMap<string, JobTold>;
}

/** One order: whose it is, and what each of its feet waits for. */
export function OrderRow({ order, told }: OrderRowProps) {
  const { id, number, customer, discipline, sides, casts } = order;
  return (
    <tr>
      <th scope="row">
        <a class="to-order" href={`/arrivals/${id}`}>{number}</a>
        {discipline !== null && <span class="quiet small">{discipline}</span>}
      </th>
      <td class="of-customer">{customer === null ? <span class="quiet">no customer named</span> : <><span>{customer.name ?? customer.number}</span>{customer.name !== null && <span class="quiet small">{customer.number}</span>}</>}</td>
      {(['left', 'right'] as const).map((side) => <SideCell key={side} side={side} ordered={sides.includes(side)} casts={casts.filter((cast) => cast.side === side)} told={told} />)}
    </tr>
  );
}

function SideCell({ side, ordered, casts, told }: { readonly side: Side; readonly ordered: boolean; readonly casts: readonly ArrivedCast[]; readonly told: OrderRowProps['told'] }) {
  // One that was replaced is told of on the order's own page.
  const cast = casts.findLast(({ waits }) => waits !== 'replaced') ?? casts.at(-1);
  if (cast === undefined) return <td class="side-cell quiet">{ordered ? 'not booked in' : 'not ordered'}</td>;
  const { waits, since, verdict, asks, drying, job } = cast;
  const left = waits === 'drying' && drying?.until !== undefined ? Date.parse(drying.until) - present.value : null;
  return (
    <td class="side-cell" data-side={side}>
      <span class="what-waits"><WaitSign waits={waits} /> {WAIT_WORDS[waits].says}</span>
      {waits === 'work' ? <StageLine told={told.get(cast.id) ?? job} /> : <span class="quiet small" title={atTime(since)}>{left !== null ? `${lasting(left)} to go` : `for ${ago(since)}`}</span>}
      {verdict !== null && waits !== 'trouble' && waits !== 'work' && <span class={`verdict-word is-${VERDICT_WORDS[verdict].kind}`}><VerdictSign verdict={verdict} /> {VERDICT_WORDS[verdict].says}{asks !== null && asks > 0 && waits === 'maker' ? `, ${asks} ${asks === 1 ? 'mark asks' : 'marks ask'}` : ''}</span>}
    </td>
  );
}
