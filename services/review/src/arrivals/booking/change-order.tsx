import { useLocation } from 'preact-iso';
import { useEffect, useState } from 'preact/hooks';
import { ProblemBox } from '../../parts/problem-box.js';
import { useAsked } from '../../parts/use-asked.js';
import { ask } from '../../server/ask.js';
import { problemOf } from '../../server/problem.js';
import { CastingPart, TapePart } from './casting-parts.js';
import { ORDER_FIELDS } from './fields.js';
import { contentOf, valuesOf } from './order-json.js';
import type { ReadOrder } from './order-json.js';
import { OrderPart } from './order-part.js';
import { showFirstFault, useFaults } from './use-faults.js';

interface OrderRead {
  readonly id: string;
  readonly version: number;
  readonly number: string;
  readonly content: Readonly<Record<string, unknown>>;
}

/** A value that someone else changed since it was read, and that was changed here too. */
interface Clash {
  readonly path: string;
  readonly theirs: string;
}

/** Mends an order that is booked in. Its casts are made anew where what they are made by changed. */
export function ChangeOrder({ orderId }: { readonly orderId: string }) {
  const { route } = useLocation();
  const asked = useAsked<OrderRead>(`/orders/${orderId}`);
  const [base, setBase] = useState<(ReadOrder & { etag: string }) | null>(null);
  const [order, setOrder] = useState<ReadOrder | null>(null);
  const [clashes, setClashes] = useState<readonly Clash[] | null>(null);
  const [busy, setBusy] = useState(false);
  const { faults, others, problem, fail, tell, clear, mended } = useFaults();
  useEffect(() => {
    if (asked.body === null || base !== null) return;
    const read = valuesOf(asked.body.content);
    setBase({ ...read, etag: asked.etag ?? '' });
    setOrder(read);
  }, [asked.body]);
  if (order === null || base === null) return <main class="booking"><h1>Change the order</h1><ProblemBox problem={asked.problem} /></main>;

  const set = (path: string, value: string): void => {
    setOrder({ ...order, values: { ...order.values, [path]: value } });
    mended(path);
  };

  /** Takes over what they changed and was not touched here; the rest is asked about. */
  const merge = (current: OrderRead): void => {
    const theirs = valuesOf(current.content);
    const found: Clash[] = [];
    const values = { ...order.values };
    for (const path of new Set([...Object.keys(theirs.values), ...Object.keys(base.values)])) {
      const [was, now, mine] = [base.values[path] ?? '', theirs.values[path] ?? '', order.values[path] ?? ''];
      if (now === was || now === mine) continue;
      if (mine === was) values[path] = now;
      else found.push({ path, theirs: now });
    }
    setBase({ ...theirs, etag: `"${current.version}"` });
    setOrder({ values, rest: theirs.rest });
    setClashes(found);
  };

  const save = async (): Promise<void> => {
    clear();
    const { content, faults: found } = contentOf(order);
    if (Object.keys(found).length > 0) {
      tell(found);
      showFirstFault();
      return;
    }
    setBusy(true);
    try {
      await ask('PATCH', `/orders/${orderId}`, { body: { content }, ifMatch: base.etag });
      route(`/arrivals/${orderId}`);
    } catch (error) {
      const told = problemOf(error);
      if (told.status === 412) merge(told.more.current as OrderRead);
      else fail(told, 'order');
      showFirstFault();
    } finally {
      setBusy(false);
    }
  };

  const part = { values: order.values, set, faults };
  return (
    <main class="booking">
      <div class="title-line"><h1>Change order {asked.body?.number}</h1></div>
      <p class="quiet">Casts that are scanned already are worked on again where what they are made by changed; what is approved stays approved.</p>
      <ProblemBox problem={problem} />
      {others.length > 0 && <ul class="problem">{others.map(({ path, message }) => <li key={path}>{path}: {message}</li>)}</ul>}
      {clashes !== null && (
        <div class="meanwhile" role="alert">
          <p><strong>Someone else changed this order meanwhile.</strong> {clashes.length === 0 ? 'What they changed is taken over; what you typed stays. Save again.' : 'You both changed these; yours stay unless you take theirs. Then save again.'}</p>
          <ul>{clashes.map(({ path, theirs }) => (
            <li key={path}>
              <span>{ORDER_FIELDS[path]?.label ?? path}: theirs <strong>{theirs === '' ? 'empty' : theirs}</strong>, yours <strong>{order.values[path] || 'empty'}</strong></span>
              <button type="button" class="push" onClick={() => {
                set(path, theirs);
                setClashes(clashes.filter((clash) => clash.path !== path));
              }}>Take theirs</button>
            </li>
          ))}</ul>
        </div>
      )}
      <form noValidate onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}>
        <div class="column"><OrderPart {...part} /></div>
        <div class="column">
          <CastingPart {...part} />
          <TapePart {...part} />
        </div>
        <div class="book-bar">
          <button class="push chief" disabled={busy}>{busy ? 'Saving …' : 'Save'}</button>
          <a class="push" href={`/arrivals/${orderId}`}>Leave it as it was</a>
        </div>
      </form>
    </main>
  );
}
