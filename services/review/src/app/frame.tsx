import type { ComponentChildren } from 'preact';
import { useLocation } from 'preact-iso';
import { ask } from '../server/ask.js';
import { connected } from '../server/events.js';
import { isAtLeast, session } from '../server/session.js';
import { PLACES } from './places.js';
import './frame.css';

/** The strip at the top with the places of the workshop, and the place below it. */
export function Frame({ children }: { readonly children: ComponentChildren }) {
  const { path } = useLocation();
  const here = path === '/' || path === '/welcome' ? '/arrivals' : path;
  return (
    <div class="frame">
      <header class="strip">
        <a class="home" href="/arrivals">cast-to-last</a>
        <nav aria-label="Places">
          {PLACES.filter(({ role }) => isAtLeast(role)).map(({ name, address }) => (
            <a key={address} href={address} aria-current={here.startsWith(address) ? 'page' : undefined}>{name}</a>
          ))}
        </nav>
        {!connected.value && <p class="no-line" role="status">No connection. What you see may be old; it is sought again.</p>}
        <div class="who">
          <span>{session.value?.person.displayName}</span>
          <button type="button" class="push" onClick={() => void signOut()}>Sign out</button>
        </div>
      </header>
      {children}
    </div>
  );
}

async function signOut(): Promise<void> {
  await ask('DELETE', '/session');
  session.value = null;
}
