import { signal } from '@preact/signals';

export type Role = 'assistant' | 'maker' | 'administrator';

export interface Person {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly displayName: string;
  readonly role: Role;
  readonly state: 'active' | 'disabled';
}

export interface Session {
  readonly person: Person;
  readonly csrf: string;
}

/** Null: nobody is signed in; undefined: not known yet. */
export const session = signal<Session | null | undefined>(undefined);
/** True while the session ended under someone's hands: they sign in over the page, which stays as it is. */
export const signInOver = signal(false);

let waiting: (() => void)[] = [];

/** Settles when someone has signed in again. */
export function endedSession(): Promise<void> {
  signInOver.value = true;
  return new Promise((resolve) => waiting.push(resolve));
}

export function beginSession(begun: Session): void {
  session.value = begun;
  signInOver.value = false;
  for (const resolve of waiting) resolve();
  waiting = [];
}

const RANKS: readonly Role[] = ['assistant', 'maker', 'administrator'];
/** Whether the one who is signed in may do what this role may. */
export const isAtLeast = (role: Role): boolean => session.value != null && RANKS.indexOf(session.value.person.role) >= RANKS.indexOf(role);
