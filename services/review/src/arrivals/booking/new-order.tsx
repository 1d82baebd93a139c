import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useKeys } from '../../parts/keys.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import { ArrivalInputs } from './arrival-part.js';
import { addCast, addOrder, customerFor } from './book-in.js';
import { CastingPart, TapePart } from './casting-parts.js';
import { CustomerPart } from './customer-part.js';
import { booking, emptyDraft, ownDraft } from './draft.js';
import type { BookingDraft } from './draft.js';
import { JsonPart, orderFromText } from './json-part.js';
import { contentOf, without } from './order-json.js';
import type { ReadOrder } from './order-json.js';
import { OrderPart } from './order-part.js';
import { showFirstFault, useFaults } from './use-faults.js';

/** Books in an order with its casts. What is typed stays in this tab until it is booked in. */
export function NewOrder() {
  const { route } = useLocation();
  const draft = ownDraft();
  const put = (fields: Partial<BookingDraft>): void => void (booking.value = { ...ownDraft(), ...fields });
  const { faults, others, problem, fail, tell, clear, mended } = useFaults();
  const [json, setJson] = useState(false);
  const [dropFault, setDropFault] = useState<string | null>(null);
  const [dropping, setDropping] = useState(false);
  const [busy, setBusy] = useState(false);

  const set = (path: string, value: string): void => {
    put({ values: { ...ownDraft().values, [path]: value } });
    mended(path);
  };
  const read = ({ values, rest }: ReadOrder): void => {
    put({ values, rest });
    setJson(false);
    clear();
    tell(contentOf({ values, rest }).faults);
  };
  const drop = async (event: DragEvent): Promise<void> => {
    event.preventDefault();
    setDropping(false);
    const file = event.dataTransfer?.files[0];
    if (file === undefined) return;
    const got = file.size > 1e6 ? { fault: 'This file is too large for an order. Scans are uploaded once the order is booked in.' } : orderFromText(await file.text());
    setDropFault('fault' in got ? `${file.name}: ${got.fault}` : null);
    if ('order' in got) read(got.order);
  };

  const bookIn = async (): Promise<void> => {
    if (busy) return;
    clear();
    const { content, faults: found } = contentOf(draft);
    if (Object.keys(found).length > 0) {
      tell(found);
      showFirstFault();
      return;
    }
    setBusy(true);
    let step: 'customer' | 'order' = 'customer';
    try {
      const customerId = await customerFor(draft.customer);
      // Should the order be refused, the customer is there already and is not added twice.
      if (customerId !== null) put({ customer: { ...draft.customer, which: 'known', id: customerId } });
      step = 'order';
      const orderId = await addOrder(content, customerId);
      booking.value = null;
      const sides = draft.values.sides === 'left' || draft.values.sides === 'right' ? [draft.values.sides] as const : ['left', 'right'] as const;
      // A cast that cannot be booked in now is offered on the order's page.
      for (const side of sides) await addCast(orderId, side, draft.arrival).catch(() => undefined);
      route(`/arrivals/${orderId}`);
    } catch (error) {
      fail(problemOf(error), step);
      showFirstFault();
    } finally {
      setBusy(false);
    }
  };

  useKeys('Booking in', [{ press: 'Escape', says: 'Back to the arrivals; what is typed stays', run: () => route('/arrivals') }]);
  const part = { values: draft.values, set, faults };
  const count = Object.keys(faults).length;
  return (
    <main class={`booking${dropping ? ' dropping' : ''}`} onDragOver={(event) => {
      event.preventDefault();
      setDropping(true);
    }} onDragLeave={(event) => void (event.target === event.currentTarget && setDropping(false))} onDrop={(event) => void drop(event)}>
      <div class="title-line">
        <h1>Book in an order</h1>
        <button type="button" class="push" aria-expanded={json} onClick={() => setJson(!json)}>From JSON</button>
      </div>
      {json && <JsonPart read={read} onClose={() => setJson(false)} />}
      {dropFault !== null && <p class="problem" role="alert">{dropFault}</p>}
      <ProblemBox problem={problem} />
      {others.length > 0 && (
        <ul class="problem">{others.map(({ path, message }) => (
          <li key={path}>{path}: {message} <button type="button" class="push" onClick={() => put({ rest: without(ownDraft().rest, path) })}>Leave {path} out</button></li>
        ))}</ul>
      )}
      <form noValidate onSubmit={(event) => {
        event.preventDefault();
        void bookIn();
      }}>
        <div class="column">
          <OrderPart {...part} />
          <section class="board form-part" aria-labelledby="arrival">
            <h2 id="arrival">The casts</h2>
            <ArrivalInputs arrival={draft.arrival} change={(arrival) => put({ arrival })} />
          </section>
          <CustomerPart customer={draft.customer} change={(customer) => put({ customer })} faults={faults} />
        </div>
        <div class="column">
          <CastingPart {...part} />
          <TapePart {...part} />
        </div>
        <div class="book-bar">
          <button class="push chief" disabled={busy}>{busy ? 'Booking in …' : 'Book in'}</button>
          <button type="button" class="push" onClick={() => {
            booking.value = emptyDraft();
            clear();
          }}>Empty the form</button>
          {count > 0 && <span class="told-faults" role="status">{count} {count === 1 ? 'value has' : 'values have'} to be mended.</span>}
          {faults.orderNumber?.includes('already') && <a href={`/arrivals?search=${encodeURIComponent(draft.values.orderNumber ?? '')}`}>Show that order</a>}
        </div>
      </form>
    </main>
  );
}
