import { useEffect, useRef } from 'preact/hooks';

/** Keys that work wherever nothing is being typed. Gives each key as the browser names it, with "Shift+" before where it is held. */
export function useKeys(actions: Readonly<Record<string, () => void>>): void {
  const now = useRef(actions);
  // Set while rendering: keys that follow each other quickly must not meet what stood there before.
  now.current = actions;
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      const target = event.target as HTMLElement;
      if (target.closest('input:not([type=range], [type=checkbox], [type=radio]), textarea, select, dialog') !== null) return;
      // Arrows belong to a slider and to a list of tabs that has the focus.
      if (event.key.startsWith('Arrow') && target.closest('input, [role=tablist], .own-arrows') !== null) return;
      const action = now.current[`${event.shiftKey && event.key.length > 1 ? 'Shift+' : ''}${event.key}`];
      if (action === undefined) return;
      event.preventDefault();
      action();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}
