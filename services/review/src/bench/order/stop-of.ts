import { ServerProblem } from '../../server/problem.js';
import type { RevisionRead } from '../../server/results.js';

/** Why there is no result; null while it is still made. */
export function stopOf({ state, refusal }: RevisionRead): ServerProblem | null {
  if (state === 'waiting' || state === 'done') return null;
  if (refusal !== null) return new ServerProblem(0, refusal.code, refusal.message, refusal.remedy);
  return new ServerProblem(0, state, `The work on this result ended without one (${state}).`, 'Decide again to have it made anew; the queue says what happened.');
}
