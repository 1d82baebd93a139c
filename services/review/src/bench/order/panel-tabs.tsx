import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { OrderRead } from '../../server/results.js';
import { AllowancesPanel } from '../panels/allowances-panel.js';
import { EarlierPanel } from '../panels/earlier-panel.js';
import { MarksPanel } from '../panels/marks-panel.js';
import { VerdictPanel } from '../panels/verdict-panel.js';
import { MeasuresPanel } from '../panels/measures-panel.js';
import { PapersPanel } from '../panels/papers-panel.js';
import type { BenchWork } from './bench-work.js';

const TABS = ['Verdict', 'Marks', 'Measures', 'Allowances', 'Earlier', 'Papers'] as const;
type Tab = (typeof TABS)[number];

/** What is known and decided of the casts, beside the scene. */
export function PanelTabs({ work, order, mayDecide }: { readonly work: BenchWork; readonly order: OrderRead; readonly mayDecide: boolean }) {
  const tab = useSignal<Tab>('Marks');
  const list = useRef<HTMLDivElement>(null);
  const step = (by: number): void => {
    const to = (TABS.indexOf(tab.value) + by + TABS.length) % TABS.length;
    tab.value = TABS[to];
    list.current?.querySelectorAll<HTMLButtonElement>('[role=tab]')[to]?.focus();
  };
  return (
    <aside class="panel" aria-label="What is known and decided">
      <div class="tabs" role="tablist" aria-label="Parts" ref={list} onKeyDown={(event) => {
        if (event.key === 'ArrowRight') step(1);
        else if (event.key === 'ArrowLeft') step(-1);
      }}>
        {TABS.map((name) => (
          <button type="button" key={name} role="tab" id={`tab-${name}`} aria-selected={tab.value === name} aria-controls="part" tabIndex={tab.value === name ? 0 : -1} onClick={() => void (tab.value = name)}>{name}</button>
        ))}
      </div>
      <div class="part" id="part" key={tab.value} role="tabpanel" aria-labelledby={`tab-${tab.value}`} tabIndex={0}>
        {tab.value === 'Verdict' && <VerdictPanel work={work} order={order} />}
        {tab.value === 'Marks' && <MarksPanel work={work} mayDecide={mayDecide} />}
        {tab.value === 'Measures' && <MeasuresPanel work={work} order={order} />}
        {tab.value === 'Allowances' && <AllowancesPanel work={work} mayDecide={mayDecide} />}
        {tab.value === 'Earlier' && <EarlierPanel work={work} mayDecide={mayDecide} />}
        {tab.value === 'Papers' && <PapersPanel work={work} />}
      </div>
    </aside>
  );
}
