import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { day } from '../parts/times.js';
import { useListed } from '../parts/use-listed.js';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';

interface Station {
  readonly id: string;
  readonly name: string;
  readonly createdAt: string;
  readonly expiresAt: string | null;
  readonly revokedAt: string | null;
}

/** Tokens of scanning stations: they upload scans by the number on the label, and may do nothing else. */
export function Stations() {
  const list = useListed<Station>('/tokens', {});
  const [made, setMade] = useState<{ name: string; token: string } | null>(null);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const add = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const { name, until } = Object.fromEntries(new FormData(form)) as Record<string, string>;
    try {
      const { body } = await ask<{ name: string; token: string }>('POST', '/tokens', { body: { name, ...(until !== '' && { expiresAt: new Date(`${until}T23:59:59`).toISOString() }) } });
      setMade(body);
      setProblem(null);
      form.reset();
      await list.again();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  const revoke = async (id: string): Promise<void> => {
    await ask('DELETE', `/tokens/${id}`).catch((error: unknown) => setProblem(problemOf(error)));
    await list.again();
  };
  const standing = ({ revokedAt, expiresAt }: Station): string => (revokedAt !== null ? `taken back ${day(revokedAt)}` : expiresAt === null ? 'holds' : Date.parse(expiresAt) < Date.now() ? `ran out ${day(expiresAt)}` : `holds until ${day(expiresAt)}`);
  return (
    <>
      <h1>Scanning stations</h1>
      <p>A station signs in with a token. It uploads scans by order number and side, and does nothing else; it sees no customer and no other scan.</p>
      <form class="board add-form" onSubmit={(event) => void add(event)}>
        <Field label="Name of the station">{(tie) => <input {...tie} name="name" required maxLength={80} autoComplete="off" />}</Field>
        <Field label="Until (may be left out)">{(tie) => <input {...tie} name="until" type="date" />}</Field>
        <button class="push chief">Make a token</button>
      </form>
      {made !== null && (
        <div class="shown-once" role="status">
          <p><strong>The token of {made.name}, shown this once:</strong></p>
          <code>{made.token}</code>
          <p class="small">Put it into the station's settings now; whoever has it may upload. It cannot be shown again.</p>
          <div class="buttons"><button type="button" class="push" onClick={() => void navigator.clipboard?.writeText(made.token)}>Copy</button><button type="button" class="push" onClick={() => setMade(null)}>I have it</button></div>
        </div>
      )}
      <ProblemBox problem={problem ?? list.problem} />
      {list.items?.length === 0 && <p class="quiet">No station has a token yet.</p>}
      {(list.items?.length ?? 0) > 0 && (
        <table class="people-rows folding">
          <thead><tr><th scope="col">Station</th><th scope="col">Made</th><th scope="col">State</th><td /></tr></thead>
          <tbody>{list.items?.map((station) => (
            <tr key={station.id} class={station.revokedAt === null ? '' : 'out-of-use'}>
              <th scope="row">{station.name}</th><td>{day(station.createdAt)}</td><td>{standing(station)}</td>
              <td><span class="buttons">{station.revokedAt === null && <button type="button" class="push grave" onClick={() => void revoke(station.id)}>Take it back</button>}</span></td>
            </tr>
          ))}</tbody>
        </table>
      )}
      {list.more && <button type="button" class="push" onClick={() => void list.showMore()}>Show more</button>}
    </>
  );
}
