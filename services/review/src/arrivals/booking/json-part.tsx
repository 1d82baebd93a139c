import { useState } from 'preact/hooks';
import { Field } from '../../parts/field.js';
import { valuesOf } from './order-json.js';
import type { ReadOrder } from './order-json.js';

export interface JsonPartProps {
  /** Called with what the text says. */
  readonly read: (order: ReadOrder) => void;
  readonly onClose: () => void;
}

/** An order as JSON; null and why where it is none. */
export function orderFromText(text: string): { order: ReadOrder } | { fault: string } {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    return { fault: `This is not JSON: ${error instanceof Error ? error.message : String(error)}` };
  }
  if (typeof json !== 'object' || json === null || Array.isArray(json)) return { fault: 'An order is a JSON object: { "orderNumber": … }.' };
  return { order: valuesOf(json as Record<string, unknown>) };
}

/** An order that comes as JSON is pasted here and fills the form. */
export function JsonPart({ read, onClose }: JsonPartProps) {
  const [text, setText] = useState('');
  const [fault, setFault] = useState<string>();
  const take = (): void => {
    const got = orderFromText(text);
    if ('fault' in got) setFault(got.fault);
    else read(got.order);
  };
  return (
    <section class="board form-part" aria-label="Order as JSON">
      <Field label="Order as JSON" hint="Paste it here, or drop the file anywhere on this page. It fills the form." fault={fault}>
        {(tie) => <textarea {...tie} class="json" rows={8} spellcheck={false} autofocus value={text} onInput={(e) => setText(e.currentTarget.value)} />}
      </Field>
      <div class="buttons">
        <button type="button" class="push chief" onClick={take}>Fill the form</button>
        <button type="button" class="push" onClick={onClose}>Leave it</button>
      </div>
    </section>
  );
}
