import { useState } from 'preact/hooks';
import { Dialog } from '../parts/dialog.js';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { session } from '../server/session.js';
import { look } from './look.js';
import type { Look } from './look.js';
import './own-account.css';

const LOOKS: readonly (readonly [Look, string])[] = [['light', 'Light'], ['dark', 'Dark'], ['system', 'As the device has it']];

/** What each person sets for themselves: the look of this device, and the own password. */
export function OwnAccount({ onClose }: { readonly onClose: () => void }) {
  const person = session.value?.person;
  if (person === undefined) return null;
  return (
    <Dialog title={person.displayName} onClose={onClose}>
      <div class="own-account">
        <p class="quiet">Signed in as {person.name}, {person.role}.</p>
        <fieldset>
          <legend>Look</legend>
          {LOOKS.map(([value, says]) => (
            <label key={value} class="option">
              <input type="radio" name="look" checked={look.value === value} onChange={() => void (look.value = value)} /> {says}
            </label>
          ))}
        </fieldset>
        <NewPassword personId={person.id} />
      </div>
    </Dialog>
  );
}

function NewPassword({ personId }: { readonly personId: string }) {
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [done, setDone] = useState(false);
  const submit = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const { password, newPassword } = Object.fromEntries(new FormData(form));
    setDone(false);
    try {
      await ask('POST', `/people/${personId}/password`, { body: { password, newPassword } });
      setProblem(null);
      setDone(true);
      form.reset();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  return (
    <form onSubmit={(event) => void submit(event)}>
      <h3>Change the password</h3>
      <input type="text" hidden readOnly autoComplete="username" value={session.value?.person.name} />
      <Field label="Present password">{(tie) => <input {...tie} name="password" type="password" required maxLength={200} autoComplete="current-password" />}</Field>
      <Field label="New password" hint="At least 12 characters. Other sessions of yours end.">{(tie) => <input {...tie} name="newPassword" type="password" required minLength={12} maxLength={200} autoComplete="new-password" />}</Field>
      <ProblemBox problem={problem} />
      {done && <p class="well-done" role="status">The password is changed.</p>}
      <button class="push chief">Change it</button>
    </form>
  );
}
