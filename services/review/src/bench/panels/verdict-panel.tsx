import type { OrderRead } from '../../server/results.js';
import type { BenchWork } from '../order/bench-work.js';
import { SIDE_WORDS, VERDICT_TONE, VERDICT_WORDS } from '../order/words.js';

const SEVERITY = { recast: { word: 'cast again', tone: 'bad' }, care: { word: 'care', tone: 'care' }, note: { word: 'note', tone: 'plain' } } as const;

/** The verdict on each cast, what was found, and what the program has to say besides. */
export function VerdictPanel({ work, order }: { readonly work: BenchWork; readonly order: OrderRead }) {
  const { remarks, plan } = order.content;
  return (
    <div class="verdicts">
      {remarks !== undefined && <p class="told-note"><strong>Remarks of the order</strong> {remarks}</p>}
      {plan?.note !== undefined && <p class="told-note"><strong>Agreed with the customer</strong> {plan.note}</p>}
      {work.feet.map(({ side, report, cast }) => {
        const read = report.value;
        if (read === null) return <p key={side} class="quiet">{SIDE_WORDS[side]}: no result yet.</p>;
        const { verdict, findings } = read.castCheck;
        return (
          <section key={side}>
            <h2>{SIDE_WORDS[side]} <span class={`chip ${VERDICT_TONE[verdict]}`}>{VERDICT_WORDS[verdict]}</span></h2>
            {cast.value.note !== null && <p class="told-note"><strong>Note of the assistant</strong> {cast.value.note}</p>}
            {findings.length === 0 && <p class="quiet">Nothing was found that needs care.</p>}
            <ul class="bench-findings">
              {findings.map(({ code, severity, text, at }) => (
                <li key={code} class={SEVERITY[severity].tone}>
                  <span class={`chip ${SEVERITY[severity].tone}`}>{SEVERITY[severity].word}</span>
                  <span>{text}</span>
                  {at !== null && work.stage.value !== null && <button type="button" class="push" onClick={() => void (work.place.value = { side, at, word: code.replaceAll('-', ' ') })}>show the place</button>}
                </li>
              ))}
            </ul>
            {read.warnings.length > 0 && <><h3>Warnings</h3><ul class="warnings">{read.warnings.map((text) => <li key={text}>{text}</li>)}</ul></>}
          </section>
        );
      })}
    </div>
  );
}
