import { useState } from 'preact/hooks';
import { Dialog } from '../parts/dialog.js';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useListed } from '../parts/use-listed.js';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { session } from '../server/session.js';
import type { Person, Role } from '../server/session.js';

const ROLE_SAYS: Readonly<Record<Role, string>> = { assistant: 'Assistant: books in, scans', maker: 'Maker: decides and approves too', administrator: 'Administrator: accounts too' };
const ROLES: readonly Role[] = ['assistant', 'maker', 'administrator'];

/** Who may sign in, and as what. */
export function Accounts() {
  const list = useListed<Person>('/people', {});
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [passwordOf, setPasswordOf] = useState<Person | null>(null);
  const change = async (person: Person, fields: Readonly<Record<string, unknown>>): Promise<boolean> => {
    try {
      await ask('PATCH', `/people/${person.id}`, { body: fields, ifMatch: `"${person.version}"` });
      setProblem(null);
      return true;
    } catch (error) {
      setProblem(problemOf(error));
      return false;
    } finally {
      await list.again();
    }
  };
  return (
    <>
      <h1>Accounts</h1>
      <AddAccount done={list.again} />
      <ProblemBox problem={problem ?? list.problem} />
      <table class="people-rows folding">
        <thead><tr><th scope="col">Name</th><th scope="col">Signs in as</th><th scope="col">Role</th><th scope="col">State</th><td /></tr></thead>
        <tbody>
          {list.items?.map((person) => {
            const own = person.id === session.value?.person.id;
            const active = person.state === 'active';
            return (
              <tr key={person.id} class={active ? '' : 'out-of-use'}>
                <th scope="row">{person.displayName}{own && <span class="quiet"> (you)</span>}</th>
                <td>{person.name}</td>
                <td class="field">
                  <select aria-label={`Role of ${person.displayName}`} disabled={own} value={person.role} onChange={(e) => void change(person, { role: e.currentTarget.value })}>
                    {ROLES.map((role) => <option key={role} value={role}>{ROLE_SAYS[role]}</option>)}
                  </select>
                </td>
                <td class="narrow">{active ? 'may sign in' : 'disabled'}</td>
                <td><span class="buttons">
                  {!own && <button type="button" class="push" onClick={() => setPasswordOf(person)}>New password</button>}
                  {!own && <button type="button" class={`push${active ? ' grave' : ''}`} onClick={() => void change(person, { state: active ? 'disabled' : 'active' })}>{active ? 'Disable' : 'Let sign in again'}</button>}
                </span></td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {list.more && <button type="button" class="push" onClick={() => void list.showMore()}>Show more</button>}
      {passwordOf !== null && (
        <Dialog title={`New password for ${passwordOf.displayName}`} onClose={() => setPasswordOf(null)}>
          <form onSubmit={(event) => {
            event.preventDefault();
            const { password } = Object.fromEntries(new FormData(event.currentTarget));
            void change(passwordOf, { password }).then((done) => void (done && setPasswordOf(null)));
          }}>
            <p>Their sessions end. Tell them the password in person; they can change it under their name.</p>
            <Field label="Password" hint="At least 12 characters">{(tie) => <input {...tie} name="password" type="password" required minLength={12} maxLength={200} autoComplete="new-password" />}</Field>
            <ProblemBox problem={problem} />
            <button class="push chief">Set the password</button>
          </form>
        </Dialog>
      )}
    </>
  );
}

function AddAccount({ done }: { readonly done: () => Promise<void> }) {
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const add = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    try {
      await ask('POST', '/people', { body: Object.fromEntries(new FormData(form)) });
      setProblem(null);
      form.reset();
      await done();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  return (
    <details class="board">
      <summary class="push">Make an account</summary>
      <form class="add-form" onSubmit={(event) => void add(event)}>
        <Field label="Name to sign in with">{(tie) => <input {...tie} name="name" required maxLength={80} autoComplete="off" autoCapitalize="none" spellcheck={false} />}</Field>
        <Field label="Name that others see">{(tie) => <input {...tie} name="displayName" required maxLength={120} autoComplete="off" />}</Field>
        <Field label="Role">{(tie) => <select {...tie} name="role">{ROLES.map((role) => <option key={role} value={role}>{ROLE_SAYS[role]}</option>)}</select>}</Field>
        <Field label="First password">{(tie) => <input {...tie} name="password" type="password" required minLength={12} maxLength={200} placeholder="12 characters or more" autoComplete="new-password" />}</Field>
        <button class="push chief">Make it</button>
      </form>
      <ProblemBox problem={problem} />
    </details>
  );
}
