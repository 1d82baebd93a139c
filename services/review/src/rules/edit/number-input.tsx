import { useEffect, useState } from 'preact/hooks';
import { numberOf } from '../../parts/number-of.js';
import type { RuleSchema } from '../../server/rule-schema.js';
import type { Json } from '../lines.js';

export interface NumberInputProps {
  readonly label: string;
  readonly value: Json;
  readonly schema: RuleSchema;
  readonly describedBy?: string | undefined;
  readonly invalid: boolean;
  /** Given what was typed as it stands where it is no number: the service says what is wrong with it. */
  readonly onChange: (value: Json) => void;
}

/** What a text means: a number with a point or a comma, else the text itself. */
const meant = (text: string): Json => numberOf(text) ?? text;

const unitWord = ({ unit }: RuleSchema): string => (unit === undefined || unit === 'share' || unit === 'pieces' ? '' : unit);

/** One number with its unit. What is being typed stays as typed. */
export function NumberInput({ label, value, schema, describedBy, invalid, onChange }: NumberInputProps) {
  const [typed, setTyped] = useState(String(value ?? ''));
  useEffect(() => {
    if (meant(typed) !== value) setTyped(String(value ?? ''));
  }, [value]);
  return (
    <label class="number-input">
      <span class="part">{label}</span>
      <span class="with-unit">
        <input
          type="text" inputMode="decimal" autoComplete="off" value={typed} aria-invalid={invalid} aria-describedby={describedBy}
          onInput={(event) => {
            const text = (event.target as HTMLInputElement).value;
            setTyped(text);
            onChange(meant(text));
          }}
        />
        {unitWord(schema) !== '' && <span class="unit">{unitWord(schema)}</span>}
      </span>
    </label>
  );
}
