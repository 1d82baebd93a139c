import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { beginSession } from '../server/session.js';
import type { Session } from '../server/session.js';
import './sign-in.css';

/** Signs in; over the page where the session ended meanwhile, so that nothing typed there is lost. */
export function SignIn({ over = false }: { readonly over?: boolean }) {
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  const submit = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const { name, password } = Object.fromEntries(new FormData(event.target as HTMLFormElement));
    setBusy(true);
    try {
      beginSession((await ask<Session>('POST', '/session', { body: { name, password } })).body);
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  };
  const form = (
    <form class="board sign-in" onSubmit={(event) => void submit(event)}>
      <h1>{over ? 'Sign in again' : 'cast-to-last'}</h1>
      {over && <p>Your session has ended. What you typed stays; sign in and go on.</p>}
      <Field label="Name">{(tie) => <input {...tie} name="name" required maxLength={80} autoComplete="username" autoCapitalize="none" spellcheck={false} />}</Field>
      <Field label="Password">{(tie) => <input {...tie} name="password" type="password" required maxLength={200} autoComplete="current-password" />}</Field>
      <ProblemBox problem={problem} />
      <button class="push chief" disabled={busy}>Sign in</button>
    </form>
  );
  return over ? <div class="sign-in-over" role="dialog" aria-modal="true" aria-label="Sign in again">{form}</div> : <main class="sign-in-page">{form}</main>;
}
