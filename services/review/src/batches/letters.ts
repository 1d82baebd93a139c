import { useEffect, useRef } from 'preact/hooks';

const typing = (target: EventTarget | null): boolean => target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName) && !/^(checkbox|radio|range)$/.test((target as HTMLInputElement).type);

/** Keys that hold on the whole page while nobody types and no dialog is open. */
export function useLetters(letters: Readonly<Record<string, () => void>>): void {
  const now = useRef(letters);
  now.current = letters;
  useEffect(() => {
    const hear = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented || typing(event.target) || document.querySelector('dialog[open], [aria-modal=true]') !== null) return;
      const run = now.current[event.key];
      if (run === undefined) return;
      event.preventDefault();
      run();
    };
    addEventListener('keydown', hear);
    return () => removeEventListener('keydown', hear);
  }, []);
}
