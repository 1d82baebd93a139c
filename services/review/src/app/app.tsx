import { ErrorBoundary, LocationProvider, Route, Router, lazy } from 'preact-iso';
import { useEffect } from 'preact/hooks';
import { ask } from '../server/ask.js';
import { ServerProblem } from '../server/problem.js';
import { beginSession, session, signInOver } from '../server/session.js';
import type { Session } from '../server/session.js';
import { FirstAccount } from '../sign-in/first-account.js';
import { SignIn } from '../sign-in/sign-in.js';
import { Frame } from './frame.js';
import { Lost } from './lost.js';

const Arrivals = lazy(() => import('../arrivals/arrivals.js').then((m) => m.Arrivals));
const Bench = lazy(() => import('../bench/bench.js').then((m) => m.Bench));
const Rules = lazy(() => import('../rules/rules.js').then((m) => m.Rules));
const Batches = lazy(() => import('../batches/batches.js').then((m) => m.Batches));
const Find = lazy(() => import('../find/find.js').then((m) => m.Find));
const Queue = lazy(() => import('../queue/queue.js').then((m) => m.Queue));
const People = lazy(() => import('../people/people.js').then((m) => m.People));

/** The whole app: who is signed in first, then the place that the address names. */
export function App() {
  useEffect(() => void whoIsIn(), []);
  if (location.pathname === '/welcome' && session.value == null) return <FirstAccount />;
  if (session.value === undefined) return <p class="unseen" role="status">One moment …</p>;
  if (session.value === null) return <SignIn />;
  return (
    <LocationProvider>
      <Frame>
        <ErrorBoundary>
          <Router>
            <Route path="/" component={Arrivals} />
            <Route path="/welcome" component={Arrivals} />
            <Route path="/arrivals/:rest*" component={Arrivals} />
            <Route path="/bench/:rest*" component={Bench} />
            <Route path="/rules/:rest*" component={Rules} />
            <Route path="/batches/:rest*" component={Batches} />
            <Route path="/find/:rest*" component={Find} />
            <Route path="/queue/:rest*" component={Queue} />
            <Route path="/people/:rest*" component={People} />
            <Route default component={Lost} />
          </Router>
        </ErrorBoundary>
      </Frame>
      {signInOver.value && <SignIn over />}
    </LocationProvider>
  );
}

async function whoIsIn(): Promise<void> {
  try {
    beginSession((await ask<Session>('GET', '/session')).body);
  } catch (error) {
    if (error instanceof ServerProblem && error.status !== 401) throw error;
    session.value = null;
  }
}
