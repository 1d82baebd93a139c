import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { ProblemBox } from '../../parts/problem-box.js';
import { useKeys } from '../../parts/keys.js';
import { useAsked } from '../../parts/use-asked.js';
import { useNews, useSoon } from '../../parts/use-news.js';
import type { ArrivedOrder } from '../../server/arrivals.js';
import type { JobTold } from '../../server/events.js';
import type { Page } from '../../server/page.js';
import { ScanDrop } from '../scans/scan-drop.js';
import { AddCast } from './add-cast.js';
import { CastPanel } from './cast-panel.js';
import { OrderHead } from './order-head.js';
import type { OrderRead } from '../../server/results.js';
import './order-page.css';

/** One order: its scans, and what each of its casts is at. */
export function OrderPage({ orderId }: { readonly orderId: string }) {
  const { route } = useLocation();
  const row = useAsked<Page<ArrivedOrder>>(`/arrivals?order=${orderId}`);
  const order = useAsked<OrderRead>(`/orders/${orderId}`);
  const [told, setTold] = useState<ReadonlyMap<string, JobTold>>(new Map());
  const again = async (): Promise<void> => void (await Promise.all([row.again(), order.again()]));
  const soon = useSoon(() => void again(), 150);
  useNews({
    missed: soon, cast: (news) => void (news.orderId === orderId && soon()),
    job: (news) => setTold((before) => new Map(before).set(news.castId, news)),
  });
  useKeys('Order', [
    { press: 'Escape', says: 'Back to the arrivals', run: () => route('/arrivals') },
    { press: 'e', says: 'Change the order', run: () => route(`/arrivals/${orderId}/change`) },
    { press: 'u', says: 'Choose scans to upload', run: () => document.querySelector<HTMLInputElement>('.drop-field input[type=file]')?.click() },
  ]);

  const arrived = row.body?.items[0];
  const whole = order.body;
  if (arrived === undefined || whole === null) {
    return (
      <main class="order-page">
        <p><a href="/arrivals">Arrivals</a></p>
        {order.problem === null ? <p role="status">Looking for the order …</p> : <ProblemBox problem={order.problem} />}
      </main>
    );
  }
  const missing = whole.state === 'open' ? arrived.sides.filter((side) => !arrived.casts.some((cast) => cast.side === side)) : [];
  return (
    <main class="order-page">
      <OrderHead order={arrived} content={whole.content} />
      <ProblemBox problem={order.problem ?? row.problem} />
      {arrived.casts.length > 0 && whole.state === 'open' && <ScanDrop orderId={orderId} casts={arrived.casts} />}
      {missing.map((side) => <AddCast key={side} orderId={orderId} side={side} done={again} />)}
      <div class="two-feet">
        {(['left', 'right'] as const).map((side) => {
          const theirs = arrived.casts.filter((cast) => cast.side === side);
          if (theirs.length === 0) return null;
          return (
            <div key={side} class="one-foot">
              {theirs.toReversed().map((cast) => {
                const kept = whole.casts.find(({ id }) => id === cast.id);
                return kept === undefined ? null : <CastPanel key={cast.id} orderId={orderId} orderNumber={whole.number} cast={cast} kept={kept} told={told.get(cast.id) ?? null} again={again} />;
              })}
            </div>
          );
        })}
      </div>
    </main>
  );
}
