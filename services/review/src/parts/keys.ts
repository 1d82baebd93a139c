import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';

export interface Key {
  /** As `KeyboardEvent.key` has it. */
  readonly press: string;
  readonly says: string;
  /** Absent where the part hears its keys itself and only names them here. */
  readonly run?: (event: KeyboardEvent) => void;
}
interface KeySet {
  readonly of: string;
  readonly keys: readonly Key[];
}

/** The keys that hold on the page as it is, for the list that `?` opens. */
export const keySets = signal<readonly KeySet[]>([]);
export const keysShown = signal(false);

const typing = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && (target.isContentEditable || (/^(input|textarea|select)$/i.test(target.tagName) && !/^(checkbox|radio|button|submit|file)$/.test((target as HTMLInputElement).type)));

addEventListener('keydown', (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented || typing(event.target) || document.querySelector('dialog[open]') !== null) return;
  if (event.key === '?') {
    keysShown.value = true;
    event.preventDefault();
    return;
  }
  // The newest part of the page goes first.
  const key = keySets.value.toReversed().flatMap(({ keys }) => keys).find(({ press, run }) => press === event.key && run !== undefined);
  if (key === undefined) return;
  event.preventDefault();
  key.run?.(event);
});

/** Lets keys hold while the part is on the page. */
export function useKeys(of: string, keys: readonly Key[]): void {
  const now = useRef(keys);
  now.current = keys;
  useEffect(() => {
    const set: KeySet = { of, keys: keys.map(({ press, says }, i) => ({ press, says, ...(keys[i].run !== undefined && { run: (event: KeyboardEvent) => now.current[i]?.run?.(event) }) })) };
    keySets.value = [...keySets.value, set];
    return () => {
      keySets.value = keySets.value.filter((other) => other !== set);
    };
  }, [of, keys.map(({ press }) => press).join()]);
}
