import { useState } from 'preact/hooks';
import { Field } from '../../parts/field.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { ask } from '../../server/ask.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import type { ArrivedCast } from '../../server/arrivals.js';
import type { Cast, RevisionRead } from '../../server/results.js';

export interface RecastPartProps {
  readonly orderNumber: string;
  readonly cast: ArrivedCast;
  readonly kept: Cast;
  readonly revision: RevisionRead;
  /** Texts of the findings that ask for a new cast. */
  readonly reasons: readonly string[];
  readonly again: () => Promise<void>;
}

/** The note to the customer, and the mark that a new cast is asked for. */
export function RecastPart({ orderNumber, cast, kept, revision, reasons, again }: RecastPartProps) {
  const [reason, setReason] = useState(reasons.join('\n'));
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const hasNote = revision.files.some(({ name }) => name === 'recast-note.pdf');
  const mark = async (): Promise<void> => {
    try {
      await ask('POST', `/revisions/${revision.id}/approval`, { body: { verdict: 'recast', reason: reason.trim(), fingerprint: revision.fingerprint }, ifMatch: `"${kept.version}"` });
      setProblem(null);
    } catch (error) {
      setProblem(problemOf(error));
    }
    await again();
  };
  const marked = cast.waits === 'recast';
  return (
    <section class="panel-part recast-part" aria-label="Cast again">
      <h3>Cast again</h3>
      {hasNote && <p><a class="push chief" href={`/api/v1/revisions/${revision.id}/files/recast-note.pdf?show=1`} target="_blank" rel="noopener">Open the note to print</a> <span class="quiet small">One page for the customer of order {orderNumber}: what went wrong, with pictures, and what to do next time.</span></p>}
      {!marked && (
        <>
          <Field label="Why, for the records">{(tie) => <textarea {...tie} rows={3} maxLength={2000} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />}</Field>
          <div class="buttons"><button type="button" class="push grave" disabled={reason.trim() === ''} onClick={() => void mark()}>Mark as to be cast again</button></div>
        </>
      )}
      <ProblemBox problem={problem} />
    </section>
  );
}
