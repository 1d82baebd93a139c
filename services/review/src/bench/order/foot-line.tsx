import { useSignal } from '@preact/signals';
import { ProblemBox } from '../../parts/problem-box.js';
import type { BenchWork } from './bench-work.js';
import { STAGE_WORDS } from '../../parts/stage-line.js';
import type { Foot } from './foot.js';
import { SignDialog } from '../panels/sign-dialog.js';
import { SIDE_WORDS, STATE_WORDS, VERDICT_TONE, VERDICT_WORDS } from './words.js';

/** How one cast stands: its result, its verdict, what is being made, and the way to sign. */
export function FootLine({ foot, work, mayDecide }: { readonly foot: Foot; readonly work: BenchWork; readonly mayDecide: boolean }) {
  const signing = useSignal(false);
  const cast = foot.cast.value;
  const revision = foot.revision.value;
  const verdict = foot.report.value?.castCheck.verdict;
  const making = foot.making.value;
  const asks = foot.marks.value.filter(({ now }) => now === 'ask').length;
  return (
    <div class={`foot-line ${foot.side}`} aria-label={`${SIDE_WORDS[foot.side]} cast`} role="group">
      <strong>{SIDE_WORDS[foot.side]}</strong>
      {revision !== null && <span class="quiet">result {revision.number}</span>}
      {verdict !== undefined && <span class={`chip ${VERDICT_TONE[verdict]}`}>{VERDICT_WORDS[verdict]}</span>}
      {asks > 0 && making === null && <span class="asks">{asks === 1 ? '1 mark asks' : `${asks} marks ask`}</span>}
      <span class="state" role="status">
        {making === null ? cast.state === 'to-review' ? '' : STATE_WORDS[cast.state] : making.previewed > 0 ? 'building the last …' : `${making.stage === null ? 'asked for' : STAGE_WORDS[making.stage] ?? making.stage} …`}
      </span>
      {mayDecide && revision !== null && <button type="button" class={`push ${cast.state === 'to-review' && making === null ? 'chief' : ''}`} disabled={making !== null} onClick={() => void (signing.value = true)}>Sign {foot.side}</button>}
      {foot.news.value !== null && (
        <span class="news">Someone asked for another result. <button type="button" class="push" onClick={() => void foot.show(foot.news.value as string, true)}>Show it</button></span>
      )}
      {foot.problem.value !== null && (
        <div class="trouble">
          <ProblemBox problem={foot.problem.value} />
          <button type="button" class="push" onClick={() => void (foot.problem.value = null)}>Put away</button>
        </div>
      )}
      {signing.value && revision !== null && <SignDialog foot={foot} work={work} revision={revision} close={() => void (signing.value = false)} />}
    </div>
  );
}
