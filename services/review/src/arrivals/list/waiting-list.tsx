import { useLocation } from 'preact-iso';
import { useEffect, useRef, useState } from 'preact/hooks';
import { ProblemBox } from '../../parts/problem-box.js';
import { useKeys } from '../../parts/keys.js';
import { useAsked } from '../../parts/use-asked.js';
import { useNews, useSoon } from '../../parts/use-news.js';
import { WAITS } from '../../server/arrivals.js';
import type { ArrivedOrder, WaitCounts, WaitsFor } from '../../server/arrivals.js';
import type { JobTold } from '../../server/events.js';
import { WAIT_WORDS } from '../wait-words.js';
import { Groups, SHOWN_GROUPS } from './groups.js';
import { OrderRow } from './order-row.js';
import { useListed } from '../../parts/use-listed.js';
import './waiting-list.css';

/** What waits for whom: a shelf of groups with their counts, and below it the orders. */
export function WaitingList() {
  const { query, route } = useLocation();
  const waits = WAITS.find((w) => w === query.waits) ?? null;
  const search = query.search ?? '';
  const [typed, setTyped] = useState(search);
  const field = useRef<HTMLInputElement>(null);
  const counts = useAsked<WaitCounts>('/arrivals/counts');
  const list = useListed<ArrivedOrder>('/arrivals', { ...(waits !== null && { waits }), ...(search !== '' && { search }) });
  const [told, setTold] = useState<ReadonlyMap<string, JobTold>>(new Map());

  const refresh = useSoon(() => {
    void counts.again();
    void list.again();
  }, 400);
  useNews({ cast: refresh, missed: refresh, job: (job) => setTold((before) => new Map(before).set(job.castId, job)) });

  const show = (next: { waits?: WaitsFor | null; search?: string }): void => {
    const asked = new URLSearchParams();
    const [w, s] = [next.waits === undefined ? waits : next.waits, next.search ?? search];
    if (w !== null) asked.set('waits', w);
    if (s !== '') asked.set('search', s);
    route(`/arrivals${asked.size > 0 ? `?${asked}` : ''}`, true);
  };
  const searchSoon = useSoon(() => show({ search: typed.trim() }), 250);
  useEffect(() => setTyped(search), [search]);

  useKeys('Arrivals', [
    { press: 'n', says: 'Book in an order', run: () => route('/arrivals/new') },
    { press: '/', says: 'Search', run: () => field.current?.focus() },
    { press: 'ArrowDown', says: 'Next order', run: () => step(1) },
    { press: 'ArrowUp', says: 'Order before', run: () => step(-1) },
    { press: '0', says: 'All that is open', run: () => show({ waits: null }) },
    ...SHOWN_GROUPS.map((group, i) => ({ press: String(i + 1), says: WAIT_WORDS[group].group, run: () => show({ waits: group }) })),
  ]);

  const nothing = list.items !== null && list.items.length === 0;
  const empty = nothing && waits === null && search === '';
  return (
    <main class="arrivals">
      <div class="title-line">
        <h1>Arrivals</h1>
        <label class="search-box">
          <span class="unseen">Search by order number or customer</span>
          <input ref={field} type="search" placeholder="Order number or customer" maxLength={100} value={typed} onInput={(event) => {
            setTyped(event.currentTarget.value);
            searchSoon();
          }} />
        </label>
        <a class="push chief" href="/arrivals/new">Book in an order</a>
      </div>
      <Groups counts={counts.body} chosen={waits} choose={(group) => show({ waits: group })} />
      <ProblemBox problem={list.problem ?? counts.problem} />
      {list.items === null && list.problem === null && <p role="status">Looking at what there is …</p>}
      {empty && (counts.body !== null && counts.body.done > 0
        ? <p class="board nothing-there">Nothing waits: every cast is approved. <a href="/arrivals?waits=done">Look at those</a>, or <a href="/arrivals/new">book in the next order</a>.</p>
        : (
          <div class="board nothing-there">
            <h2>Nothing has arrived yet</h2>
            <p>An order comes first: a number, which feet, and how they were cast. Then its casts dry, are scanned, and go to the maker.</p>
            <a class="push chief" href="/arrivals/new">Book in the first order</a>
          </div>
        ))}
      {nothing && !empty && (
        <p class="board nothing-there">
          {search !== '' ? `No order or customer like “${search}”${waits === null ? '' : ` among those ${WAIT_WORDS[waits].says}`}.` : WAIT_WORDS[waits ?? 'scan'].none}{' '}
          <button type="button" class="push" onClick={() => show({ waits: null, search: '' })}>Show all that is open</button>
        </p>
      )}
      {list.items !== null && list.items.length > 0 && (
        <table class="order-table">
          <thead><tr><th scope="col">Order</th><th scope="col">Customer</th><th scope="col">Left</th><th scope="col">Right</th></tr></thead>
          <tbody>{list.items.map((order) => <OrderRow key={order.id} order={order} told={told} />)}</tbody>
        </table>
      )}
      {list.more && <button type="button" class="push show-more" disabled={list.busy} onClick={() => void list.showMore()}>{list.busy ? 'Looking …' : 'Show more'}</button>}
    </main>
  );
}

/** Moves the focus from order to order. */
function step(by: 1 | -1): void {
  const links = [...document.querySelectorAll<HTMLElement>('.order-table .to-order')];
  const at = links.indexOf(document.activeElement as HTMLElement);
  links[Math.max(0, Math.min(links.length - 1, at + by))]?.focus();
}
