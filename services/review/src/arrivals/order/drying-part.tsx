import { useState } from 'preact/hooks';
import { atTime, lasting, present } from '../../parts/times.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { ArrivalInputs } from '../booking/arrival-part.js';
import { arrivalOf } from '../booking/book-in.js';
import type { ArrivalDraft } from '../booking/draft.js';
import { changeCast } from './change-cast.js';
import type { Cast } from '../../server/results.js';

/** Whether the cast came, how long it dries, and whether that is enough. */
export function DryingPart({ kept, again }: { readonly kept: Cast; readonly again: () => Promise<void> }) {
  const { arrivedAt, drying } = kept;
  const [draft, setDraft] = useState<ArrivalDraft | null>(null);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const put = async (fields: Parameters<typeof changeCast>[1]): Promise<void> => {
    try {
      await changeCast(kept, fields);
      setDraft(null);
      setProblem(null);
    } catch (error) {
      setProblem(problemOf(error));
    }
    await again();
  };
  const now = present.value;
  const [since, until] = [drying?.since, drying?.until].map((at) => (at === undefined ? null : Date.parse(at)));
  const wet = until !== null && until > now;
  return (
    <section class="panel-part" aria-label="Arrival and drying">
      <h3>Arrival and drying</h3>
      <p>
        {arrivedAt === null ? (kept.state === 'awaiting-scan' ? 'Not here yet.' : 'When it came was not noted.') : `Here since ${atTime(arrivedAt)}.`}{' '}
        {arrivedAt !== null && (drying === null ? 'It came dry.' : wet ? `Still damp: ${lasting(until - now)} to go, until ${atTime(drying.until ?? '')}` : drying.until === undefined ? 'Drying.' : `Dry enough since ${atTime(drying.until)}`)}
        {drying?.how !== undefined && `, ${drying.how}`}
      </p>
      {wet && since !== null && until > since && (
        <p class="drying-bar"><progress max={until - since} value={now - since} aria-label="Drying" /> <span class="small">{lasting(now - since)} of {lasting(until - since)}</span></p>
      )}
      {draft === null
        ? (
          <div class="buttons">
            {arrivedAt === null && <button type="button" class="push" onClick={() => void put(arrivalOf({ here: true, damp: false, hours: '', how: '' }))}>It has arrived, dry</button>}
            {wet && <button type="button" class="push" onClick={() => void put({ drying: { ...drying, until: new Date().toISOString() } })}>It is dry enough now</button>}
            <button type="button" class="push" onClick={() => setDraft({ here: true, damp: true, hours: '24', how: drying?.how ?? 'in the air, standing free' })}>{arrivedAt === null ? 'Arrived damp …' : 'Change …'}</button>
          </div>
        )
        : (
          <div class="form-part">
            <ArrivalInputs arrival={draft} change={setDraft} />
            <div class="buttons">
              <button type="button" class="push chief" onClick={() => void put(draft.here && arrivedAt !== null ? { drying: arrivalOf(draft).drying } : arrivalOf(draft))}>Keep</button>
              <button type="button" class="push" onClick={() => setDraft(null)}>Leave it</button>
            </div>
          </div>
        )}
      <ProblemBox problem={problem} />
    </section>
  );
}
