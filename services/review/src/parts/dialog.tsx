import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import './dialog.css';

export interface DialogProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

/** Over the page until it is closed, by its button or Escape; the keyboard stays inside. */
export function Dialog({ title, onClose, children }: DialogProps) {
  const element = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    element.current?.showModal();
    return () => element.current?.close();
  }, []);
  return (
    <dialog ref={element} class="dialog" aria-label={title} onClose={onClose} onCancel={onClose}>
      <header>
        <h2>{title}</h2>
        <button type="button" class="push" onClick={onClose} aria-label="Close">✕</button>
      </header>
      {children}
    </dialog>
  );
}
