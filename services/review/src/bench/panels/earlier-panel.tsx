import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { time } from '../../parts/times.js';
import { listApprovals, listRevisions } from '../../server/results.js';
import type { Approval, ListedRevision } from '../../server/results.js';
import type { BenchWork } from '../order/bench-work.js';
import type { Foot } from '../order/foot.js';
import { SIDE_WORDS } from '../order/words.js';

const SIGNED = { approved: 'approved', 'sent-back': 'sent back', recast: 'to be cast again' } as const;
const ORIGIN = { person: 'asked for by someone', batch: 'made by a batch', import: 'brought in' } as const;

/** What was made and signed before, newest first; any result can be looked at, and gone back to. */
export function EarlierPanel({ work, mayDecide }: { readonly work: BenchWork; readonly mayDecide: boolean }) {
  return <div class="earlier">{work.feet.map((foot) => <OfFoot key={foot.side} foot={foot} mayDecide={mayDecide} />)}</div>;
}

function OfFoot({ foot, mayDecide }: { readonly foot: Foot; readonly mayDecide: boolean }) {
  const revisions = useSignal<readonly ListedRevision[]>([]);
  const signed = useSignal<readonly Approval[]>([]);
  const cast = foot.cast.value;
  const shown = foot.revision.value;
  useEffect(() => {
    void Promise.all([listRevisions(cast.id), listApprovals(cast.id)]).then(([made, approvals]) => {
      revisions.value = made;
      signed.value = approvals;
    }, () => undefined);
  }, [cast.version, shown?.id]);
  return (
    <section>
      <h2>{SIDE_WORDS[foot.side]}</h2>
      <ol>
        {revisions.value.map((revision) => {
          const word = signed.value.find(({ revisionId }) => revisionId === revision.id);
          const is = shown?.id === revision.id;
          return (
            <li key={revision.id} class={is ? 'shown' : ''}>
              <div>
                <strong>Result {revision.number}</strong> <span class="quiet">{time(revision.createdAt)}, {ORIGIN[revision.origin]}</span>
                {revision.id === cast.currentRevisionId && <span class="chip plain">current</span>}
                {revision.state !== 'done' && <span class="chip care">{revision.state}</span>}
                {word !== undefined && <span class={`chip ${word.verdict === 'approved' ? 'good' : 'care'}`}>{SIGNED[word.verdict]}{word.personName == null ? '' : ` by ${word.personName}`}</span>}
                {word?.reason != null && <p class="quiet">“{word.reason}”</p>}
              </div>
              {revision.state === 'done' && !is && <button type="button" class="push" onClick={() => void foot.show(revision.id, false)}>look at it</button>}
              {revision.state === 'done' && is && mayDecide && revision.id !== cast.currentRevisionId && <button type="button" class="push" onClick={() => void foot.goBack()}>go back to this</button>}
            </li>
          );
        })}
      </ol>
    </section>
  );
}
