import type { ComponentChildren } from 'preact';
import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { forgetAll } from '../parts/forget.js';
import { keysShown, useKeys } from '../parts/keys.js';
import { ask } from '../server/ask.js';
import { connected } from '../server/events.js';
import { isAtLeast, session } from '../server/session.js';
import { FirstSteps } from './first-steps/first-steps.js';
import { KeyList } from './key-list.js';
import { OwnAccount } from './own-account.js';
import { PLACES } from './places.js';
import './frame.css';

/** The strip at the top with the places of the workshop, and the place below it. */
export function Frame({ children }: { readonly children: ComponentChildren }) {
  const { path, route } = useLocation();
  const [account, setAccount] = useState(false);
  const places = PLACES.filter(({ role, upTo }) => isAtLeast(role) && (upTo === undefined || session.value?.person.role === upTo || !isAtLeast(upTo)));
  useKeys('Everywhere', places.map(({ name, address, key }) => ({ press: key, says: `Go to ${name}`, run: () => route(address) })));
  const here = path === '/' || path === '/welcome' ? '/arrivals' : path;
  return (
    <div class="frame">
      <div>
        <header class="strip">
          <a class="home" href="/arrivals">cast-to-last</a>
          <nav aria-label="Places">
            {places.map(({ name, address }) => (
              <a key={address} href={address} aria-current={here.startsWith(address) ? 'page' : undefined}>{name}</a>
            ))}
          </nav>
          {!connected.value && <p class="no-line" role="status">No connection. What you see may be old; it is sought again.</p>}
          <div class="who">
            <button type="button" class="push quiet-push" title="Keys on this page" aria-label="Keys on this page" onClick={() => void (keysShown.value = true)}>?</button>
            <button type="button" class="push quiet-push name" title="Your look and password" onClick={() => setAccount(true)}>{session.value?.person.displayName}</button>
            <button type="button" class="push" onClick={() => void signOut()}>Sign out</button>
          </div>
        </header>
        <FirstSteps />
      </div>
      {children}
      <KeyList />
      {account && <OwnAccount onClose={() => setAccount(false)} />}
    </div>
  );
}

async function signOut(): Promise<void> {
  forgetAll();
  await ask('DELETE', '/session');
  session.value = null;
}
