import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { readOrder } from '../../server/results.js';
import type { Cast, OrderRead, Side } from '../../server/results.js';
import { isAtLeast } from '../../server/session.js';
import { openGeometryThread } from '../../parts/geometry/client.js';
import type { Tools } from '../scene/handle.js';
import { useKeys } from '../../parts/keys.js';
import { BenchWork } from './bench-work.js';
import { BENCH_KEYS } from './key-words.js';
import { patchTool, patchTools } from './patch-tool.js';
import { FootLine } from './foot-line.js';
import { PanelTabs } from './panel-tabs.js';
import { SceneView } from './scene-view.js';
import { MarkRuler } from './mark-ruler.js';
import './order-bench.css';

/** One order: its left and right cast on the bench, or one of them alone. */
export function OrderBench({ orderId, only }: { readonly orderId: string; readonly only: Side | null }) {
  const order = useSignal<OrderRead | null>(null);
  const problem = useSignal<ServerProblem | null>(null);
  const work = useSignal<BenchWork | null>(null);
  const tools = useSignal<Tools | null>(null);
  useKeys('On the bench', BENCH_KEYS);

  useEffect(() => {
    let begun: BenchWork | null = null;
    let gone = false;
    performance.mark('bench-opens');
    // Starts while the order is read.
    const thread = openGeometryThread();
    readOrder(orderId).then((read) => {
      if (gone) return;
      order.value = read;
      begun = new BenchWork(castsOf(read, only), thread);
      work.value = begun;
      tools.value = patchTools(begun);
      for (const foot of begun.feet) void foot.open();
    }).catch((error: unknown) => void (problem.value = problemOf(error)));
    return () => {
      gone = true;
      patchTool.value = null;
      begun?.close();
      thread.close();
    };
  }, []);

  const { value: read } = order;
  const both = read !== null && castsOf(read, null).length > 1;
  return (
    <main class="order-bench">
      <header class="order-head">
        <a class="back" href="/bench" aria-label="Back to what waits">‹</a>
        <h1>{read === null ? 'One moment …' : `Order ${read.number}`}</h1>
        {read?.discipline != null && <span class="quiet">{read.discipline}</span>}
        {both && (
          <nav class="sides" aria-label="Which cast">
            {([null, 'left', 'right'] as const).map((side) => (
              <a key={side ?? 'both'} href={`/bench/${orderId}${side === null ? '' : `/${side}`}`} aria-current={only === side ? 'page' : undefined}>{side ?? 'both'}</a>
            ))}
          </nav>
        )}
        <div class="feet-lines">{work.value?.feet.map((foot) => <FootLine key={foot.side} foot={foot} work={work.value as BenchWork} mayDecide={isAtLeast('maker')} />)}</div>
      </header>
      <ProblemBox problem={problem.value} />
      {read !== null && work.value !== null && work.value.feet.length === 0 && <p class="board">No cast of this order is booked in yet. <a href="/arrivals">Book it in under Arrivals.</a></p>}
      {read !== null && work.value !== null && work.value.feet.length > 0 && (
        <div class="bench-room">
          <SceneView work={work.value} order={read} tools={tools.value ?? undefined}>
            <MarkRuler work={work.value} />
          </SceneView>
          <PanelTabs work={work.value} order={read} mayDecide={isAtLeast('maker')} />
        </div>
      )}
    </main>
  );
}

/** The newest cast of each side, left first. */
function castsOf({ casts }: OrderRead, only: Side | null): readonly Cast[] {
  const sides = only === null ? (['left', 'right'] as const) : [only];
  return sides.flatMap((side) => casts.filter((cast) => cast.side === side).sort((a, b) => b.createdAt.localeCompare(a.createdAt)).slice(0, 1));
}
