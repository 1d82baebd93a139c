import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { useEffect, useRef } from 'preact/hooks';
import { STAGE_WORDS } from '../../parts/stage-line.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { listen } from '../../server/events.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { listWaiting } from '../../server/results.js';
import type { ArrivedOrder } from '../../server/arrivals.js';
import type { Side } from '../../server/results.js';
import { SIDE_WORDS, VERDICT_TONE, VERDICT_WORDS, ago } from '../order/words.js';
import { useKeys } from '../order/keys.js';
import './waiting-list.css';

/** Orders with a cast that waits for the maker, longest first; any other by its number. */
export function WaitingList() {
  const rows = useSignal<readonly ArrivedOrder[] | null>(null);
  const next = useSignal<string | null>(null);
  const problem = useSignal<ServerProblem | null>(null);
  const search = useSignal('');
  const at = useSignal(0);
  const list = useRef<HTMLOListElement>(null);
  const { route } = useLocation();

  const read = async (more: boolean): Promise<void> => {
    const sought = search.value.trim();
    try {
      const page = await listWaiting(sought === '' ? 'maker' : null, sought, more ? next.value : null);
      if (sought !== search.value.trim()) return;
      rows.value = [...(more ? rows.value ?? [] : []), ...page.items];
      next.value = page.next;
      problem.value = null;
    } catch (error) {
      problem.value = problemOf(error);
    }
  };
  useEffect(() => {
    void read(false);
    let timer: ReturnType<typeof setTimeout> | undefined;
    const soon = (): void => {
      clearTimeout(timer);
      timer = setTimeout(() => void read(false), 300);
    };
    const end = listen('cast', soon, soon);
    return () => {
      clearTimeout(timer);
      end();
    };
  }, []);

  const shown = [...(rows.value ?? [])].sort((a, b) => since(a) - since(b));
  const go = (by: number): void => {
    at.value = Math.max(0, Math.min(shown.length - 1, at.value + by));
    list.current?.querySelectorAll('a')[at.value]?.focus();
  };
  useKeys({ ArrowDown: () => go(document.activeElement?.closest('.waiting-rows') === null ? 0 : 1), ArrowUp: () => go(-1), Enter: () => shown[at.value] !== undefined && route(`/bench/${shown[at.value].id}`) });

  return (
    <main class="waiting">
      <div class="head">
        <h1>Bench</h1>
        <label class="seek">Order number <input type="search" value={search.value} onInput={(event) => {
          search.value = event.currentTarget.value;
          at.value = 0;
          void read(false);
        }} /></label>
      </div>
      <p class="quiet">{search.value.trim() === '' ? 'Waiting for your decision, longest first. Up and down choose, Enter opens.' : `Orders with “${search.value.trim()}” in their number.`}</p>
      <ProblemBox problem={problem.value} />
      {rows.value === null && problem.value === null && <p role="status">One moment …</p>}
      {rows.value !== null && shown.length === 0 && (
        <p class="board">{search.value.trim() === '' ? <>Nothing waits for a decision. What is on its way stands in <a href="/arrivals">Arrivals</a>; an order that is done is found by its number.</> : 'No order has such a number.'}</p>
      )}
      <ol class="waiting-rows" ref={list}>
        {shown.map((order, i) => (
          <li key={order.id}>
            <a href={`/bench/${order.id}`} onFocus={() => void (at.value = i)}>
              <strong class="number">{order.number}</strong>
              <span class="kind quiet">{order.discipline ?? 'no discipline named'}</span>
              <SideCell order={order} side="left" />
              <SideCell order={order} side="right" />
            </a>
          </li>
        ))}
      </ol>
      {next.value !== null && <button type="button" class="push" onClick={() => void read(true)}>Show more</button>}
    </main>
  );
}

const since = ({ casts }: ArrivedOrder): number => Math.min(...casts.filter(({ waits }) => waits === 'maker').map(({ since: at }) => Date.parse(at)), Date.now());

const WAITS: Readonly<Record<string, string>> = {
  post: 'not here yet', drying: 'drying', scan: 'to be scanned', work: 'being made', trouble: 'stopped: look into the queue', 'sent-back': 'sent back', recast: 'to be cast again', replaced: 'replaced by a new cast', done: 'approved',
};

function SideCell({ order, side }: { readonly order: ArrivedOrder; readonly side: Side }) {
  const cast = order.casts.filter((c) => c.side === side).at(-1);
  if (cast === undefined) return <span class="side none"><span class="name">{SIDE_WORDS[side]}</span><span class="quiet">{order.sides.includes(side) ? 'no cast booked in' : 'not ordered'}</span></span>;
  const { waits, verdict, asks, job } = cast;
  return (
    <span class={`side ${waits}`}>
      <span class="name">{SIDE_WORDS[side]}</span>
      {verdict !== null && <span class={`chip ${VERDICT_TONE[verdict]}`}>{VERDICT_WORDS[verdict]}</span>}
      {waits === 'maker'
        ? <><span class={asks === 0 ? 'quiet' : 'asks'}>{asks === 0 ? 'no mark asks' : asks === 1 ? '1 mark asks' : `${asks} marks ask`}</span><span class="since quiet">{ago(cast.since)}</span></>
        : <span class="quiet">{WAITS[waits]}{job?.stage != null && `: ${STAGE_WORDS[job.stage] ?? job.stage}`}</span>}
    </span>
  );
}
