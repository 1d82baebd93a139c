import { useState } from 'preact/hooks';
import { Field } from '../../parts/field.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { atTime } from '../../parts/times.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { changeCast } from './change-cast.js';
import type { Cast } from '../../server/results.js';

/** The cast is with the maker; what the assistant has to say goes with it. */
export function HandOn({ kept, since, again }: { readonly kept: Cast; readonly since: string; readonly again: () => Promise<void> }) {
  const [typed, setTyped] = useState<string | null>(null);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const save = async (base: Cast): Promise<void> => {
    try {
      await changeCast(base, { note: typed?.trim() === '' ? null : (typed?.trim() ?? null) });
      setTyped(null);
      setProblem(null);
      await again();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  const theirs = problem?.status === 412 ? (problem.more.current as Cast) : null;
  const note = typed ?? kept.note ?? '';
  return (
    <section class="panel-part hand-on" aria-label="Handed on to the maker">
      <h3>Handed on to the maker</h3>
      <p>The maker has it since {atTime(since)} and decides every mark. <a href={`/bench/${kept.orderId}`}>Look at it on the bench</a></p>
      <Field label="Note to the maker">{(tie) => <textarea {...tie} rows={2} maxLength={2000} value={note} onInput={(event) => setTyped(event.currentTarget.value)} />}</Field>
      {theirs !== null
        ? (
          <div class="meanwhile" role="alert">
            <p><strong>Someone else changed the note meanwhile.</strong> It now says: “{theirs.note ?? ''}”. Yours stands above.</p>
            <div class="buttons">
              <button type="button" class="push" onClick={() => void save(theirs)}>Put mine in its place</button>
              <button type="button" class="push" onClick={() => {
                setTyped(`${theirs.note ?? ''}\n${note}`.trim());
                void again().then(() => setProblem(null));
              }}>Join both</button>
            </div>
          </div>
        )
        : <ProblemBox problem={problem} />}
      {typed !== null && typed !== (kept.note ?? '') && theirs === null && <div class="buttons"><button type="button" class="push chief" onClick={() => void save(kept)}>Give the note</button></div>}
    </section>
  );
}
