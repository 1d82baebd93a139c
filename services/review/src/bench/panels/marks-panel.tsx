import { useEffect, useRef } from 'preact/hooks';
import type { BenchWork } from '../order/bench-work.js';
import { decideMark } from '../order/decided-marks.js';
import type { DecidedMark } from '../order/decided-marks.js';
import type { Foot } from '../order/foot.js';
import { useKeys } from '../order/keys.js';
import { DECISION_WORDS, SIDE_WORDS, signedMm } from '../order/words.js';
import { Patches } from './patches.js';
import { MarkDetail } from './mark-detail.js';

interface Listed {
  readonly foot: Foot;
  readonly mark: DecidedMark;
}

/** Every mark of both feet, what asks first; the chosen one with its close-up and its decision. */
export function MarksPanel({ work, mayDecide }: { readonly work: BenchWork; readonly mayDecide: boolean }) {
  const rank = { ask: 0, smooth: 1, keep: 2 } as const;
  const all: readonly Listed[] = work.feet.flatMap((foot) => foot.marks.value.map((mark) => ({ foot, mark })))
    .sort((a, b) => rank[a.mark.now] - rank[b.mark.now]);
  const selected = work.selected.value;
  const at = all.findIndex(({ foot, mark }) => foot.side === selected?.side && mark.id === selected.mark);
  const chosen = all[at];
  const list = useRef<HTMLUListElement>(null);

  const choose = ({ foot, mark }: Listed): void => void (work.selected.value = { side: foot.side, mark: mark.id });
  const step = (by: number): void => {
    if (all.length > 0) choose(all[at < 0 ? (by > 0 ? 0 : all.length - 1) : (at + by + all.length) % all.length]);
  };
  const decide = (decision: 'smooth' | 'keep') => (): void => {
    if (mayDecide && chosen !== undefined) chosen.foot.decide(decideMark(chosen.foot.decisions.value, chosen.mark, decision));
  };
  const footOfUndo = chosen?.foot ?? work.feet.find(({ undos }) => undos.value.length > 0) ?? work.feet[0];
  useKeys({ n: () => step(1), p: () => step(-1), s: decide('smooth'), k: decide('keep'), u: () => footOfUndo?.undo(), r: () => footOfUndo?.redo() });
  useEffect(() => {
    list.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest' });
  }, [selected]);

  const asks = all.filter(({ mark }) => mark.now === 'ask').length;
  return (
    <div class="marks">
      <div class="marks-head">
        <p>{all.length === 0 ? work.feet.some(({ report }) => report.value !== null) ? 'No mark was found.' : 'No result yet.' : <><strong>{asks === 0 ? 'No mark asks.' : asks === 1 ? '1 mark asks.' : `${asks} marks ask.`}</strong> <span class="quiet">{all.length} in all</span></>}</p>
        <div class="step">
          <button type="button" class="push" onClick={() => step(-1)}><kbd>P</kbd>previous</button>
          <button type="button" class="push" onClick={() => step(1)}><kbd>N</kbd>next</button>
          {mayDecide && <button type="button" class="push" disabled={(footOfUndo?.undos.value.length ?? 0) === 0} onClick={() => footOfUndo?.undo()}><kbd>U</kbd>undo</button>}
          {mayDecide && <button type="button" class="push" disabled={(footOfUndo?.redos.value.length ?? 0) === 0} onClick={() => footOfUndo?.redo()}><kbd>R</kbd>redo</button>}
        </div>
      </div>
      {chosen !== undefined && <MarkDetail key={`${chosen.foot.side}:${chosen.mark.id}`} work={work} foot={chosen.foot} mark={chosen.mark} mayDecide={mayDecide} decide={decide} />}
      {mayDecide && work.webgl.value && <Patches work={work} />}
      <ul class="mark-list" ref={list}>
        {all.map((listed) => {
          const { foot, mark } = listed;
          const is = listed === chosen;
          return (
            <li key={`${foot.side}:${mark.id}`}>
              <button type="button" class="mark-row" aria-current={is ? 'true' : undefined} onClick={() => choose(listed)}>
                <span class={`pin-sign ${mark.now}`}>{mark.number}</span>
                <span class="what">{SIDE_WORDS[foot.side]}, {mark.kind}</span>
                <span class="depth">{signedMm(mark.depth)} mm</span>
                <span class={`word ${mark.now}`}>{mark.word === null ? DECISION_WORDS[mark.now] : `decided: ${mark.now}`}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </div>
  );
}
