import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { beginSession } from '../server/session.js';
import type { Session } from '../server/session.js';
import './sign-in.css';

/** The part of the address after # is the secret; it is taken off at once, so that it stays in no history. */
const secret = location.hash.slice(1);
if (location.pathname === '/welcome') history.replaceState(null, '', location.pathname);

/** Makes the first account by the link that the service prints when it starts. */
export function FirstAccount() {
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  const submit = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const given = Object.fromEntries(new FormData(event.target as HTMLFormElement));
    setBusy(true);
    try {
      beginSession((await ask<Session>('POST', '/first-account', { body: { token: secret, ...given } })).body);
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  };
  return (
    <main class="sign-in-page">
      <form class="board sign-in" onSubmit={(event) => void submit(event)}>
        <h1>The first account</h1>
        <p>It may do everything, accounts for others among it. The link holds once, for a day.</p>
        {secret === '' && <p class="problem">This address has no secret. Use the whole link that the service printed when it started.</p>}
        <Field label="Name to sign in with">{(tie) => <input {...tie} name="name" required maxLength={80} autoComplete="username" autoCapitalize="none" spellcheck={false} />}</Field>
        <Field label="Name that others see">{(tie) => <input {...tie} name="displayName" required maxLength={120} autoComplete="name" />}</Field>
        <Field label="Password" hint="At least 12 characters">{(tie) => <input {...tie} name="password" type="password" required minLength={12} maxLength={200} autoComplete="new-password" />}</Field>
        <ProblemBox problem={problem} />
        <button class="push chief" disabled={busy || secret === ''}>Make the account</button>
      </form>
    </main>
  );
}
