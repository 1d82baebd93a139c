import { useState } from 'preact/hooks';
import { ProblemBox } from '../parts/problem-box.js';
import { remedyOf } from '../parts/remedy-of.js';
import { StageLine } from '../parts/stage-line.js';
import { ago, atTime } from '../parts/times.js';
import { ask } from '../server/ask.js';
import type { JobTold } from '../server/events.js';
import type { Job } from '../server/jobs.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { isAtLeast } from '../server/session.js';

export interface JobRowProps {
  readonly job: Job;
  readonly told: JobTold | null;
  /** In its line; null where it stands in none. */
  readonly place: number | null;
  readonly again: () => Promise<void>;
}

const SAYS: Readonly<Record<Job['state'], string>> = { waiting: 'waits', running: 'runs', done: 'done', refused: 'refused', failed: 'failed', 'set-aside': 'set aside', cancelled: 'cancelled' };
/** What is to be done about what ended without a result. */
const REMEDIES: Partial<Record<Job['state'], string>> = {
  failed: 'The program failed at it three times. The scan is kept: have it made anew once; should it fail again, give the administrator the story.',
  'set-aside': 'Its worker died at it twice, mostly for want of memory. Reduce the scan to fewer triangles and upload it again, or give a cast more memory (JOB_MEMORY_MB).',
};

/** One job: whose cast, how far, and what can be done. */
export function JobRow({ job, told, place, again }: JobRowProps) {
  const { id, orderId, orderNumber, side, state, createdAt, startedAt, endedAt, refusal, story, attempts, cancelAsked } = job;
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const live = told !== null && told.state === state ? told : job;
  const steer = async (what: 'cancel' | 'retry'): Promise<void> => {
    try {
      await ask('POST', `/jobs/${id}/${what}`);
      setProblem(null);
    } catch (error) {
      setProblem(problemOf(error));
    }
    await again();
  };
  const open = state === 'waiting' || state === 'running';
  const mends = state === 'failed' || state === 'set-aside';
  return (
    <li class={`job-line is-${state}`}>
      <div class="job-head">
        {place !== null && <span class="line-place">{place}</span>}
        <a class="job-of" href={`/arrivals/${orderId}`}>{orderNumber}, {side}</a>
        <strong class="job-state">{SAYS[state]}</strong>
        {state === 'running' ? <StageLine told={live} /> : <span class="quiet small" title={atTime(endedAt ?? createdAt)}>{open ? `for ${ago(createdAt)}` : `${ago(endedAt ?? createdAt)} ago`}</span>}
        {state === 'running' && startedAt !== null && <span class="quiet small">began {ago(startedAt)} ago</span>}
        {attempts > 0 && open && <span class="small">tried {attempts === 1 ? 'once' : `${attempts} times`} before</span>}
        <span class="buttons">
          {open && isAtLeast('maker') && <button type="button" class="push" disabled={cancelAsked} onClick={() => void steer('cancel')}>{cancelAsked ? 'Being stopped …' : 'Cancel'}</button>}
          {mends && isAtLeast('maker') && <button type="button" class="push" onClick={() => void steer('retry')}>Make it anew</button>}
          {(state === 'refused' || mends) && <a class="push" href={`/arrivals/${orderId}`}>Go to the cast</a>}
        </span>
      </div>
      {refusal !== null && <p><strong>{refusal.message.replace(refusal.remedy, '').trim()}</strong> {remedyOf(refusal)}</p>}
      {REMEDIES[state] !== undefined && <p>{REMEDIES[state]}{mends && !isAtLeast('maker') && ' A maker can have it made anew.'}</p>}
      {story.length > 0 && (
        <details>
          <summary>What happened</summary>
          <ol>{story.map(({ at, text, stage }) => <li key={at}><span class="quiet small">{atTime(at)}{stage === null ? '' : `, ${stage}`}</span> {text}</li>)}</ol>
        </details>
      )}
      <ProblemBox problem={problem} />
    </li>
  );
}
