import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { day } from '../parts/times.js';
import { useAsked } from '../parts/use-asked.js';
import { ask } from '../server/ask.js';
import type { Page } from '../server/page.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import type { Scanner } from '../server/scanners.js';
import { isAtLeast } from '../server/session.js';
import { Standing } from './standing.js';

/** The workshop's scanners: which may be relied on, and until when. */
export function Scanners() {
  const list = useAsked<Page<Scanner>>('/scanners?retired=yes');
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const add = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    try {
      await ask('POST', '/scanners', { body: Object.fromEntries(new FormData(form)) });
      setProblem(null);
      form.reset();
      await list.again();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  return (
    <>
      <h1>Scanners</h1>
      <p>A scan of one or two gauge balls shows whether a scanner is true. A scanner that is out of date or out of limits is told of on every cast that it scanned.</p>
      {isAtLeast('maker') && (
        <form class="board add-form" onSubmit={(event) => void add(event)}>
          <Field label="Name of the scanner">{(tie) => <input {...tie} name="name" required maxLength={80} autoComplete="off" />}</Field>
          <button class="push chief">Add it</button>
        </form>
      )}
      <ProblemBox problem={problem ?? list.problem} />
      {list.body?.items.length === 0 && <p class="quiet">No scanner is named yet{isAtLeast('maker') ? '' : '; a maker adds one'}.</p>}
      {(list.body?.items.length ?? 0) > 0 && (
        <table class="people-rows folding">
          <thead><tr><th scope="col">Scanner</th><th scope="col">Stands</th><th scope="col">Last check</th><th scope="col">Good until</th></tr></thead>
          <tbody>{list.body?.items.map((scanner) => (
            <tr key={scanner.id} class={scanner.retiredAt === null ? '' : 'out-of-use'}>
              <th scope="row"><a href={`/people/scanners/${scanner.id}`}>{scanner.name}</a></th>
              <td><Standing scanner={scanner} /></td>
              <td>{scanner.checkedOn === null ? 'never' : day(`${scanner.checkedOn}T12:00:00Z`)}</td>
              <td>{scanner.goodUntil === null ? '–' : day(`${scanner.goodUntil}T12:00:00Z`)}</td>
            </tr>
          ))}</tbody>
        </table>
      )}
    </>
  );
}
