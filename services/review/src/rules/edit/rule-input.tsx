import type { RuleSchema } from '../../server/rule-schema.js';
import { valueAt, withValue } from '../lines.js';
import type { Json, RuleLine } from '../lines.js';
import { ANY_NONE, NONE_WORDS } from '../words/none-words.js';
import { ListInput } from './list-input.js';
import { NumberInput } from './number-input.js';

export interface RuleInputProps {
  readonly line: RuleLine;
  readonly value: Json;
  readonly name: string;
  readonly describedBy: string | undefined;
  readonly faults: readonly { readonly path: string; readonly message: string }[];
  readonly onChange: (value: Json) => void;
}

/** Whether the service found a fault at this part of the rule, or in the rule as a whole. */
const isBad = (faults: RuleInputProps['faults'], line: RuleLine, part?: string): boolean =>
  faults.some(({ path }) => path === line.keys.join('.') || (part !== undefined && (path === [...line.keys, part].join('.') || path === `${line.keys.join('.')}[${part}]`)));

/** What a number begins with where there was none: its default, its lower limit where that is above 0, else a quarter of the sum of its limits. */
const beginning = ({ default: given, minimum = 0, maximum = 0 }: RuleSchema): number => (typeof given === 'number' ? given : minimum > 0 ? minimum : Math.round((minimum + maximum) / 4));

/** The last words of a part's title: "new cast" of "Bend of the sole: new cast". */
const partName = (key: string, { title }: RuleSchema): string => (key === 'care' ? 'care beyond' : key === 'recast' ? 'new cast beyond' : (title ?? key));

/** The input of one rule, whatever its kind. */
export function RuleInput(props: RuleInputProps) {
  const { line, value, name, describedBy, faults, onChange } = props;
  const bad = isBad(faults, line);
  switch (line.kind) {
    case 'number':
      return <NumberInput label={name} value={value} schema={line.schema} describedBy={describedBy} invalid={bad} onChange={onChange} />;
    case 'text':
      return <label class="number-input"><span class="part">{name}</span><input type="text" value={String(value ?? '')} aria-invalid={bad} aria-describedby={describedBy} onInput={(event) => onChange((event.target as HTMLInputElement).value)} /></label>;
    case 'switch':
      return <Choice name={name} options={[['true', 'Yes'], ['false', 'No']]} chosen={String(value)} describedBy={describedBy} onChoose={(given) => onChange(given === 'true')} />;
    case 'choice':
      return <Choice name={name} options={Object.entries(line.schema.choices ?? {})} chosen={String(value)} describedBy={describedBy} onChoose={onChange} />;
    case 'numbers':
      return <Numbers {...props} />;
    case 'ease':
      return <Ease {...props} />;
    case 'list':
      return <ListInput {...props} />;
    case 'maybe-number':
    case 'maybe-numbers': {
      const words = NONE_WORDS[line.pattern] ?? ANY_NONE;
      const first = line.kind === 'maybe-number' ? beginning(line.schema) : Object.fromEntries(line.parts.map(([key, of]) => [key, beginning(of)]));
      return (
        <div class="maybe">
          <Choice name={name} options={[['none', words.none], ['some', words.some]]} chosen={value === null ? 'none' : 'some'} describedBy={describedBy} onChoose={(given) => onChange(given === 'none' ? null : first)} />
          {value !== null && (line.kind === 'maybe-number' ? <NumberInput label={`${name}, ${words.some.toLowerCase()}`} value={value} schema={line.schema} describedBy={describedBy} invalid={bad} onChange={onChange} /> : <Numbers {...props} />)}
        </div>
      );
    }
  }
}

function Choice({ name, options, chosen, describedBy, onChoose }: {
  readonly name: string; readonly options: readonly (readonly [string, string])[]; readonly chosen: string; readonly describedBy: string | undefined; readonly onChoose: (key: string) => void;
}) {
  return (
    <div class="choice" role="radiogroup" aria-label={name} aria-describedby={describedBy}>
      {options.map(([key, words]) => (
        <label key={key}><input type="radio" checked={key === chosen} onChange={() => onChoose(key)} name={`${name} ${describedBy ?? ''}`} />{words}</label>
      ))}
    </div>
  );
}

function Numbers({ line, value, describedBy, faults, onChange }: RuleInputProps) {
  return (
    <div class="numbers">
      {line.parts.map(([key, of]) => (
        <NumberInput
          key={key} label={Array.isArray(value) ? ['width', 'depth', 'height'][Number(key)] : partName(key, of)} value={valueAt(value, [key])} schema={of} describedBy={describedBy}
          invalid={isBad(faults, line, key)} onChange={(given) => onChange(withValue(value, [key], given))}
        />
      ))}
    </div>
  );
}

/** A change of girth: an amount, and whether it is in millimetres or in per cent. */
function Ease({ line, value, name, describedBy, faults, onChange }: RuleInputProps) {
  const [[key, amount] = ['mm', 0]] = Object.entries((value ?? {}) as Record<string, Json>);
  const schema = new Map(line.parts).get(key) ?? {};
  return (
    <div class="maybe">
      <Choice name={`${name} in`} options={[['mm', 'mm'], ['percent', 'per cent']]} chosen={key} describedBy={describedBy} onChoose={(given) => onChange({ [given]: 0 })} />
      <NumberInput label={name} value={amount} schema={schema} describedBy={describedBy} invalid={isBad(faults, line, key)} onChange={(given) => onChange({ [key]: given })} />
    </div>
  );
}
