import { useState } from 'preact/hooks';
import { Field } from '../../parts/field.js';
import type { RuleSchema } from '../../server/rule-schema.js';
import { defaultsOf } from '../defaults.js';
import { valueAt, withValue } from '../lines.js';
import type { Json } from '../lines.js';

const AT = ['check', 'disciplines'];

/** Adds kinds of footwear beside those that every workshop has, and takes such away. */
export function FootwearKinds({ schema, content, onChange }: { readonly schema: RuleSchema; readonly content: Json; readonly onChange: (content: Json) => void }) {
  const [name, setName] = useState('');
  const of = schema.properties?.check?.properties?.disciplines ?? {};
  const all = Object.keys((valueAt(content, AT) ?? {}) as object);
  const own = all.filter((kind) => of.properties?.[kind] === undefined);
  const given = name.trim();
  const there = all.includes(given);
  const add = (): void => {
    onChange(withValue(content, [...AT, given], defaultsOf(of.additionalProperties as RuleSchema)));
    setName('');
  };
  return (
    <div class="rule-group kinds">
      <h3>Kinds of footwear</h3>
      <p class="quiet">{of.description}</p>
      {own.map((kind) => <p key={kind}>{kind} <button type="button" class="push" onClick={() => onChange(withValue(content, [...AT, kind], undefined))}>Take {kind} away</button></p>)}
      <div class="table-tools">
        <Field label="Another kind of footwear" {...(there && { fault: 'is there already' })}>
          {(tie) => <input {...tie} value={name} maxLength={60} onInput={(event) => setName((event.target as HTMLInputElement).value)} />}
        </Field>
        <button type="button" class="push" disabled={given === '' || there} onClick={add}>Add it</button>
      </div>
    </div>
  );
}
