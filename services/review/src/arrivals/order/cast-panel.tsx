import { useAsked } from '../../parts/use-asked.js';
import { ago, atTime } from '../../parts/times.js';
import type { ArrivedCast } from '../../server/arrivals.js';
import type { JobTold } from '../../server/events.js';
import { StageLine } from '../../parts/stage-line.js';
import { WaitSign } from '../wait-sign.js';
import { WAIT_WORDS } from '../wait-words.js';
import { Refusal } from '../verdict/refusal.js';
import { VerdictPanel } from '../verdict/verdict-panel.js';
import { AddCast } from './add-cast.js';
import { Decided } from './decided.js';
import { DryingPart } from './drying-part.js';
import { HandOn } from './hand-on.js';
import type { Cast, RevisionRead } from '../../server/results.js';
import { Photos } from './photos.js';

export interface CastPanelProps {
  readonly orderId: string;
  readonly orderNumber: string;
  readonly cast: ArrivedCast;
  readonly kept: Cast;
  readonly told: JobTold | null;
  readonly again: () => Promise<void>;
}

/** One cast: what it waits for, the verdict, and what is known of it. */
export function CastPanel({ orderId, orderNumber, cast, kept, told, again }: CastPanelProps) {
  const { id, side, waits, since, newestRevisionId, currentRevisionId } = cast;
  const shownId = waits === 'trouble' ? newestRevisionId : currentRevisionId;
  // A revision that ends changes the cast's record: it is read anew with it.
  const revision = useAsked<RevisionRead>(shownId === null || waits === 'work' ? null : `/revisions/${shownId}?at=${kept.version}`);
  const live = told !== null && ['waiting', 'running'].includes(told.state) ? told : cast.job;
  return (
    <section class={`cast-panel waits-${waits}`} aria-labelledby={`cast-${id}`}>
      <header>
        <span class="side-letter" aria-hidden="true">{side === 'left' ? 'L' : 'R'}</span>
        <h2 id={`cast-${id}`}>{side === 'left' ? 'Left' : 'Right'} cast</h2>
        <p class="what-waits"><WaitSign waits={waits} /> {WAIT_WORDS[waits].says} <span class="quiet small" title={atTime(since)}>for {ago(since)}</span></p>
      </header>
      {waits === 'work' && <div class="live-stage" role="status"><StageLine told={live} /></div>}
      <Decided cast={cast} />
      {waits === 'trouble' && revision.body !== null && <Refusal orderId={orderId} cast={cast} revision={revision.body} again={again} />}
      {waits !== 'trouble' && waits !== 'work' && revision.body?.state === 'done' && <VerdictPanel orderNumber={orderNumber} cast={cast} kept={kept} revision={revision.body} again={again} />}
      {waits === 'recast' && <AddCast orderId={orderId} side={side} recastOfId={id} done={again} />}
      {waits === 'maker' && <HandOn kept={kept} again={again} since={since} />}
      <DryingPart kept={kept} again={again} />
      <Photos kept={kept} again={again} />
    </section>
  );
}
