import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

export interface FieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  /** The input, given the id and the description that tie it to its label. */
  readonly children: (tie: { readonly id: string; readonly 'aria-describedby': string | undefined; readonly 'aria-invalid': boolean }) => ComponentChildren;
}

/** One input with its label, a hint and what is wrong with it. */
export function Field({ label, hint, fault, children }: FieldProps) {
  const id = useId();
  const told = [hint !== undefined && `${id}-hint`, fault !== undefined && `${id}-fault`].filter(Boolean).join(' ');
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {children({ id, 'aria-describedby': told === '' ? undefined : told, 'aria-invalid': fault !== undefined })}
      {hint !== undefined && <span class="quiet small" id={`${id}-hint`}>{hint}</span>}
      {fault !== undefined && <span class="fault" id={`${id}-fault`}>{fault}</span>}
    </div>
  );
}
