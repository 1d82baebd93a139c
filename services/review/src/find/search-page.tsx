import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { day } from '../parts/times.js';
import { useKeys } from '../parts/keys.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useListed } from '../parts/use-listed.js';
import { useLoaded } from '../parts/use-loaded.js';
import { useSoon } from '../parts/use-news.js';
import { usePlace } from '../parts/use-place.js';
import { readReach } from '../server/batches.js';
import type { CastFound, Customer, OrderFound } from '../server/customers.js';
import { CAST_WORDS, ORDER_WORDS } from './words.js';

/** What is looked for; the address holds it. */
const KEYS = ['q', 'discipline', 'state', 'from', 'to'] as const;
type Wanted = Readonly<Record<(typeof KEYS)[number], string>>;

const FEW = 12;
const MANY = 100;

/** Whole days become instants of this place's clock. */
const span = ({ from, to }: Wanted): Record<string, string> => ({
  ...(from !== '' && { from: new Date(`${from}T00:00:00`).toISOString() }), ...(to !== '' && { to: new Date(`${to}T23:59:59.999`).toISOString() }),
});

/** One search over customers, orders and lasts. */
export function SearchPage() {
  const { query, route, path } = usePlace('/find');
  const wanted = Object.fromEntries(KEYS.map((key) => [key, query[key] ?? ''])) as Wanted;
  const [typed, setTyped] = useState(wanted.q);
  const input = useRef<HTMLInputElement>(null);
  const kinds = useLoaded(() => readReach({}, undefined, new AbortController().signal), []);
  const want = (changed: Partial<Wanted>): void => {
    const next = new URLSearchParams(Object.entries({ ...wanted, ...changed }).filter(([, value]) => value !== ''));
    route(`${path}${next.size > 0 ? `?${next.toString()}` : ''}`, true);
  };
  const soon = useSoon(() => want({ q: typed.trim() }), 200);
  useKeys('Find', [{ press: '/', says: 'look for something', run: () => input.current?.select() }]);
  useEffect(() => input.current?.focus(), []);
  const narrowed = wanted.discipline !== '' || wanted.state !== '' || wanted.from !== '' || wanted.to !== '';
  const search: Record<string, string> = wanted.q === '' ? {} : { search: wanted.q };
  const common: Record<string, string> = { ...search, ...span(wanted), ...(wanted.discipline !== '' && { discipline: wanted.discipline }) };
  const ofOrders = { ...common, ...(wanted.state !== '' && { castState: wanted.state }) };
  const ofCasts = { ...common, ...(wanted.state !== '' && { state: wanted.state }) };
  /** From the search into what was found, and on through it. */
  const walk = (event: KeyboardEvent): void => {
    if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
    const stops = [input.current, ...document.querySelectorAll<HTMLElement>('[data-hit]')].filter((stop) => stop !== null);
    const at = stops.indexOf(document.activeElement as HTMLElement);
    if (at < 0) return;
    event.preventDefault();
    stops[Math.min(stops.length - 1, Math.max(0, at + (event.key === 'ArrowDown' ? 1 : -1)))]?.focus();
  };
  return (
    <main class="find" onKeyDown={walk}>
      <div class="page-head">
        <h1>Find</h1>
        <a class="push" href="/find/compare">Compare two casts or lasts</a>
      </div>
      <form class="board search" role="search" onSubmit={(event) => event.preventDefault()}>
        <Field label="Number or name" hint="Of a customer, an order or a last">
          {(tie) => (
            <input {...tie} ref={input} type="search" maxLength={100} autoComplete="off" value={typed} onInput={(event) => {
              setTyped((event.target as HTMLInputElement).value);
              soon();
            }} />
          )}
        </Field>
        <Field label="Kind of footwear">
          {(tie) => (
            <select {...tie} value={wanted.discipline} onChange={(event) => want({ discipline: (event.target as HTMLSelectElement).value })}>
              <option value="">Any</option>
              {[...new Set([...(kinds.value?.disciplines.map(({ name }) => name) ?? []), ...(wanted.discipline === '' ? [] : [wanted.discipline])])].map((name) => <option key={name} value={name}>{name}</option>)}
            </select>
          )}
        </Field>
        <Field label="State of the cast">
          {(tie) => (
            <select {...tie} value={wanted.state} onChange={(event) => want({ state: (event.target as HTMLSelectElement).value })}>
              <option value="">Any</option>
              {Object.entries(CAST_WORDS).map(([state, { words }]) => <option key={state} value={state}>{words}</option>)}
            </select>
          )}
        </Field>
        <Field label="From">{(tie) => <input {...tie} type="date" value={wanted.from} onInput={(event) => want({ from: (event.target as HTMLInputElement).value })} />}</Field>
        <Field label="To">{(tie) => <input {...tie} type="date" value={wanted.to} onInput={(event) => want({ to: (event.target as HTMLInputElement).value })} />}</Field>
      </form>
      {!narrowed && <Found title="Customers" none="No customer has this number or name." key={JSON.stringify(['customers', search])} path="/customers" query={search} head={['Customer', 'Number', 'Since']} row={customerRow} />}
      <Found title="Orders" none="No order fits." key={JSON.stringify(['orders', ofOrders])} path="/orders" query={ofOrders} head={['Order', 'Customer', 'Footwear', 'Casts', 'Booked in']} row={orderRow} />
      <Found title="Lasts and casts" none="No cast fits." key={JSON.stringify(['casts', ofCasts])} path="/casts" query={ofCasts} head={['Cast', 'State', 'Customer', 'Footwear', 'Arrived']} row={castRow} />
    </main>
  );
}

interface FoundProps<T> {
  readonly title: string;
  readonly none: string;
  readonly path: string;
  readonly query: Readonly<Record<string, string>>;
  readonly head: readonly string[];
  readonly row: (item: T) => ComponentChildren;
}

/** One kind of what was found: a few, and more when asked. */
function Found<T extends { readonly id: string }>({ title, none, path, query, head, row }: FoundProps<T>) {
  const { items, more, busy, problem, showMore } = useListed<T>(path, query, { first: FEW, step: MANY });
  const id = title.replaceAll(' ', '-').toLowerCase();
  return (
    <section aria-labelledby={id} class="found">
      <h2 id={id}>{title}{items !== null && problem === null && <span class="badge">{items.length}{more && ' and more'}</span>}</h2>
      <ProblemBox problem={problem} />
      {items?.length === 0 && problem === null && <p class="empty">{none}</p>}
      {items !== null && items.length > 0 && (
        <div class="wide-table">
          <table class="rows">
            <thead><tr>{head.map((words) => <th key={words} scope="col">{words}</th>)}</tr></thead>
            <tbody>{items.map(row)}</tbody>
          </table>
        </div>
      )}
      {more && <button type="button" class="push" disabled={busy} onClick={() => void showMore()}>More {title.toLowerCase()}</button>}
    </section>
  );
}

const customerRow = ({ id, number, name, createdAt }: Customer) => (
  <tr key={id}><th scope="row"><a data-hit href={`/find/customers/${id}`}>{name ?? number}</a></th><td>{number}</td><td class="nowrap">{day(createdAt)}</td></tr>
);

const customerOf = ({ customerId, customerName, customerNumber }: { customerId: string | null; customerName: string | null; customerNumber: string | null }) =>
  (customerId === null ? '–' : <a href={`/find/customers/${customerId}`}>{customerName ?? customerNumber}</a>);

const orderRow = (order: OrderFound) => (
  <tr key={order.id}>
    <th scope="row"><a data-hit href={`/arrivals/${order.id}`}>{order.number}</a>{order.state !== 'open' && <span class="badge">{ORDER_WORDS[order.state]}</span>}</th>
    <td>{customerOf(order)}</td>
    <td>{order.discipline ?? '–'}</td>
    <td>{order.casts.length === 0 ? 'none yet' : order.casts.map(({ id, side, state }) => <span key={id} class="nowrap"><span aria-hidden="true">{CAST_WORDS[state].sign}</span> {side} {CAST_WORDS[state].words} </span>)}</td>
    <td class="nowrap">{day(order.createdAt)}</td>
  </tr>
);

const castRow = (cast: CastFound) => (
  <tr key={cast.id}>
    <th scope="row"><a data-hit href={`/bench/${cast.orderId}/${cast.side}`}>{cast.orderNumber} {cast.side}</a></th>
    <td class="nowrap"><span aria-hidden="true">{CAST_WORDS[cast.state].sign}</span> {CAST_WORDS[cast.state].words}</td>
    <td>{customerOf(cast)}</td>
    <td>{cast.discipline ?? '–'}</td>
    <td class="nowrap">{cast.arrivedAt === null ? '–' : day(cast.arrivedAt)}</td>
  </tr>
);
