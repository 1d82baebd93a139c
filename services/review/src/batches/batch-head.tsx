import { useState } from 'preact/hooks';
import { counted } from '../parts/figures.js';
import { time } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { steerBatch } from '../server/batches.js';
import type { Batch } from '../server/batch-types.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { isAtLeast } from '../server/session.js';
import { STATE_WORDS } from './state-words.js';

/** Where what is tried is being written: kept by the browser when the trial was begun. */
const writingOf = (batchId: string): string | null => sessionStorage.getItem(`trial ${batchId}`);

/** What a batch is of, how far it is, and how it is steered. */
export function BatchHead({ batch, trouble, failed, troubleAddress, short, onChanged }: {
  readonly batch: Batch; readonly trouble: number; readonly failed: number; readonly troubleAddress: string;
  /** While a row is open: one line alone. */
  readonly short: boolean; readonly onChanged: () => void;
}) {
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [ending, setEnding] = useState(false);
  const { id, name, trial, rulesId, rulesName, rulesNumber, state, casts, counts, createdAt, personName } = batch;
  const { sign, words } = STATE_WORDS[state];
  const maker = isAtLeast('maker');
  const made = counts.done + counts.failed;
  const steer = async (how: 'pause' | 'resume' | 'cancel' | 'retry'): Promise<void> => {
    setProblem(null);
    setEnding(false);
    try {
      await steerBatch(id, how);
    } catch (error) {
      setProblem(problemOf(error));
    }
    onChanged();
  };
  const progress = (
    <div class="progress-line">
      <span class="state"><span aria-hidden="true">{sign} </span>{words}</span>
      <progress max={casts} value={made} aria-label="Casts made" />
      <span>{made} of {counted(casts, 'cast')} made{counts.compared < counts.done && `, ${counts.compared} compared`}</span>
      {trouble > 0 && <a href={troubleAddress}>{trouble} without a result</a>}
      {!trial && <span>{counts.accepted} accepted, {counts.declined} declined</span>}
    </div>
  );
  if (short) return <header class="batch-head short"><h1 title={name}>{name}</h1>{progress}</header>;
  return (
    <header class="batch-head">
      <p><a href="/batches">All batches</a></p>
      <div class="page-head">
        <h1>{name}{trial && <span class="badge">trial</span>}</h1>
        <div class="pushes">
          {trial && maker && <a class="push chief" href={`/rules/${writingOf(id) ?? rulesId}/change`}>Back to writing the rules</a>}
          {maker && state === 'running' && made < casts && <button type="button" class="push" onClick={() => void steer('pause')}>Pause</button>}
          {maker && state === 'paused' && <button type="button" class="push chief" onClick={() => void steer('resume')}>Go on</button>}
          {maker && (state === 'running' || state === 'paused') && made < casts && (ending
            ? <><span>End it with {made} of {casts} made?</span><button type="button" class="push grave" onClick={() => void steer('cancel')}>End it</button><button type="button" class="push" onClick={() => setEnding(false)}>No</button></>
            : <button type="button" class="push" onClick={() => setEnding(true)}>End early</button>)}
          {maker && failed > 0 && state === 'ended' && <button type="button" class="push" onClick={() => void steer('retry')}>Make the {failed} that failed again</button>}
        </div>
      </div>
      <p class="quiet">
        {trial ? <>By rules <a href={`/rules/${rulesId}`}>as they were tried</a></> : <>By <a href={`/rules/${rulesId}`}>{rulesName}, version {rulesNumber}</a></>} · begun {time(createdAt)} by {personName ?? 'the program'}
        {trial && ' · a trial is looked at and not accepted'}
      </p>
      {progress}
      <ProblemBox problem={problem} />
    </header>
  );
}
