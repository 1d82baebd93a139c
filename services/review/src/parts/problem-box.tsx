import { remedyOf } from './remedy-of.js';
import type { ServerProblem } from '../server/problem.js';

/** What went wrong and what to do, read out where it appears. */
export function ProblemBox({ problem }: { readonly problem: ServerProblem | null }) {
  if (problem === null) return null;
  return (
    <div class="problem" role="alert">
      <p><strong>{problem.message}</strong></p>
      {problem.faults.length > 0 && <ul>{problem.faults.map(({ path, message }) => <li key={path}>{path}: {message}</li>)}</ul>}
      <p>{remedyOf(problem)}</p>
    </div>
  );
}
