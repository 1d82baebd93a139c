import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { ProblemBox } from '../../parts/problem-box.js';
import { ServerProblem, problemOf } from '../../server/problem.js';
import { listApprovals, sign } from '../../server/results.js';
import type { Approval, RevisionRead } from '../../server/results.js';
import type { BenchWork } from '../order/bench-work.js';
import type { Foot } from '../order/foot.js';
import { SIDE_WORDS, STATE_WORDS, VERDICT_TONE, VERDICT_WORDS } from '../order/words.js';

export interface SignDialogProps {
  readonly foot: Foot;
  readonly work: BenchWork;
  readonly revision: RevisionRead;
  close(): void;
}

const CHOICES = [
  { verdict: 'approved', word: 'Approve', says: 'The last is made from this result.' },
  { verdict: 'sent-back', word: 'Send back', says: 'It goes back to the assistant with what you write.' },
  { verdict: 'recast', word: 'Cast again', says: 'The customer takes a new cast, for the reason that you write.' },
] as const;

/** Shows exactly what will be signed, and signs it. What someone else did meanwhile is shown, and nothing that was typed is lost. */
export function SignDialog({ foot, revision, close }: SignDialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const verdict = useSignal<Approval['verdict']>('approved');
  const reason = useSignal('');
  const problem = useSignal<ServerProblem | null>(null);
  const busy = useSignal(false);
  const meanwhile = useSignal<string | null>(null);
  useEffect(() => dialog.current?.showModal(), []);

  const report = foot.report.value;
  const asks = foot.marks.value.filter(({ now }) => now === 'ask');
  const needsReason = verdict.value !== 'approved';
  const submit = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    busy.value = true;
    try {
      foot.cast.value = await sign(revision, foot.cast.value, verdict.value, reason.value);
      close();
    } catch (error) {
      problem.value = problemOf(error);
      if (problem.value.status === 409 || problem.value.status === 412) await lookAgain();
    } finally {
      busy.value = false;
    }
  };
  const lookAgain = async (): Promise<void> => {
    const before = foot.cast.value;
    await foot.readCast();
    const now = foot.cast.value;
    const [last] = await listApprovals(now.id);
    const by = last !== undefined && Date.parse(last.createdAt) > Date.parse(before.changedAt) ? ` by ${last.personName ?? 'someone else'}${last.reason === null ? '' : `: “${last.reason}”`}` : '';
    meanwhile.value = `The ${foot.side} cast now ${now.state === 'approved' || now.state === 'sent-back' ? 'is ' : ''}${STATE_WORDS[now.state]}${by}.${now.currentRevisionId === revision.id ? '' : ' Another result is the current one.'}`;
  };
  return (
    <dialog class="sign" ref={dialog} onClose={close} aria-labelledby="sign-title">
      <form onSubmit={(event) => void submit(event)}>
        <h2 id="sign-title">Sign the {foot.side} cast</h2>
        <dl class="signed">
          <div><dt>result</dt><dd>{revision.number} of the {SIDE_WORDS[foot.side].toLowerCase()} cast</dd></div>
          <div><dt>fingerprint</dt><dd><code>{revision.fingerprint ?? 'none'}</code></dd></div>
          <div><dt>verdict on the cast</dt><dd>{report !== null && <span class={`chip ${VERDICT_TONE[report.castCheck.verdict]}`}>{VERDICT_WORDS[report.castCheck.verdict]}</span>}</dd></div>
          <div><dt>marks</dt><dd>{report === null ? '' : `${report.marks.filter((m) => m.decision === 'smooth').length} smoothed, ${report.marks.filter((m) => m.decision === 'keep').length} kept, ${asks.length} still ask`}</dd></div>
          <div><dt>rules</dt><dd>{report === null ? '' : `${report.rules.name}, version ${report.rules.version}`}</dd></div>
        </dl>
        {asks.length > 0 && <p class="caution">{asks.length === 1 ? 'One mark still asks; it stays' : `${asks.length} marks still ask; they stay`} as scanned: {asks.map(({ number, kind }) => `${kind} ${number}`).join(', ')}.</p>}
        <fieldset class="choices">
          <legend>What you decide</legend>
          {CHOICES.map((choice) => (
            <label key={choice.verdict}><input type="radio" name="verdict" checked={verdict.value === choice.verdict} onChange={() => void (verdict.value = choice.verdict)} /> <strong>{choice.word}</strong> <span class="quiet">{choice.says}</span></label>
          ))}
        </fieldset>
        <label class="reason">{needsReason ? 'Why' : 'Remark (may be left empty)'} <textarea rows={3} maxLength={2000} required={needsReason} value={reason.value} onInput={(event) => void (reason.value = event.currentTarget.value)} /></label>
        <ProblemBox problem={problem.value} />
        {meanwhile.value !== null && <p class="caution" role="status">{meanwhile.value} Nothing was signed; what you typed is still here.</p>}
        <div class="dialog-end">
          <button type="button" class="push" onClick={() => dialog.current?.close()}>Not now</button>
          <button class={`push ${verdict.value === 'approved' ? 'chief' : 'grave'}`} disabled={busy.value}>{CHOICES.find((choice) => choice.verdict === verdict.value)?.word}</button>
        </div>
      </form>
    </dialog>
  );
}
