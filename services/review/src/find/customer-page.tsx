import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { day } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useLoaded } from '../parts/use-loaded.js';
import { findOrders, readCustomer, readHistory } from '../server/customers.js';
import type { CastOfHistory, OrderFound } from '../server/customers.js';
import { EraseBoard } from './erase-board.js';
import { History } from './history.js';
import { Particulars } from './particulars.js';
import { CAST_WORDS, ORDER_WORDS } from './words.js';

/** One customer: particulars and consent, orders, the feet over the years. */
export function CustomerPage({ id }: { readonly id: string }) {
  const customer = useLoaded(() => readCustomer(id), [id]);
  const orders = useLoaded(() => findOrders({ customer: id, limit: '200' }), [id]);
  const history = useLoaded(() => readHistory(id), [id]);
  if (customer.value === undefined) return <main class="find"><h1>Customer</h1><ProblemBox problem={customer.problem} />{customer.problem === null && <p role="status">One moment …</p>}</main>;
  const { body } = customer.value;
  if (body.erasedAt !== null) {
    return <main class="find"><p><a href="/find">Find</a></p><h1>{body.number}</h1><p class="empty">This customer was erased on {day(body.erasedAt)}, with orders, casts and lasts. The number alone is kept.</p></main>;
  }
  return (
    <main class="find">
      <p><a href="/find">Find</a></p>
      <div class="page-head"><h1>{body.name ?? body.number}{body.name !== null && <span class="badge">{body.number}</span>}</h1></div>
      <div class="customer">
        <Particulars customer={body} etag={customer.value.etag ?? ''} onChanged={customer.set} />
        <section class="board" aria-labelledby="orders-title">
          <h2 id="orders-title">Orders</h2>
          <ProblemBox problem={orders.problem} />
          {orders.value?.items.length === 0 && <p class="empty">No order is booked in for this customer.</p>}
          <ul class="orders">{orders.value?.items.map((order) => <Order key={order.id} order={order} />)}</ul>
        </section>
      </div>
      <ProblemBox problem={history.problem} />
      {history.value !== undefined && <Feet casts={history.value} />}
      <EraseBoard customer={body} onErased={() => customer.again()} />
    </main>
  );
}

function Order({ order: { id, number, state, discipline, createdAt, content, casts } }: { readonly order: OrderFound }) {
  return (
    <li>
      <a href={`/arrivals/${id}`}>{number}</a>{state !== 'open' && <span class="badge">{ORDER_WORDS[state]}</span>} <span class="quiet">{discipline ?? ''} · {day(content.date ?? createdAt)}</span>
      <span class="casts">{casts.map((cast) => <a key={cast.id} href={`/bench/${id}/${cast.side}`}><span aria-hidden="true">{CAST_WORDS[cast.state].sign} </span>{cast.side}, {CAST_WORDS[cast.state].words}</a>)}</span>
    </li>
  );
}

/** The history of both feet, and the two casts that are picked to be compared. */
function Feet({ casts }: { readonly casts: readonly CastOfHistory[] }) {
  const [picked, setPicked] = useState<readonly string[]>([]);
  const { route } = useLocation();
  const taken = casts.filter(({ revisionId, measures }) => revisionId !== null && Object.keys(measures).length > 0);
  const pick = (revisionId: string): void => setPicked(picked.includes(revisionId) ? picked.filter((other) => other !== revisionId) : [...picked.slice(-1), revisionId]);
  const compare = (of: 'cast' | 'last'): void => {
    const order = taken.filter(({ revisionId }) => picked.includes(revisionId ?? '')).map(({ revisionId }) => revisionId);
    route(`/find/compare?first=${order[0]}&second=${order[1]}&of=${of}`);
  };
  return (
    <section aria-labelledby="feet-title" class="feet">
      <h2 id="feet-title">The feet over the years</h2>
      {taken.length === 0
        ? <p class="empty">No cast of this customer was measured yet.</p>
        : (
          <History casts={taken} picked={picked} onPick={pick}>
            <div class="pushes">
              <button type="button" class="push" disabled={picked.length !== 2} onClick={() => compare('cast')}>Compare the two casts chosen</button>
              <button type="button" class="push" disabled={picked.length !== 2} onClick={() => compare('last')}>Compare their lasts</button>
              {picked.length !== 2 && <p class="quiet small">Choose two in the table, of one foot or of both.</p>}
            </div>
          </History>
        )}
    </section>
  );
}
