import { useId } from 'preact/hooks';
import { nameOf } from '../change-row.js';
import { valueAt } from '../lines.js';
import type { Json, RuleLine } from '../lines.js';
import { RulePicture } from '../pictures/rule-picture.js';
import { Sentences } from '../said.js';
import { say, withUnit } from '../words/sentence.js';
import { RuleInput } from './rule-input.js';

export interface EditRowProps {
  readonly line: RuleLine;
  readonly content: Json;
  readonly was: Json;
  readonly changed: boolean;
  readonly faults: readonly { readonly path: string; readonly message: string }[];
  readonly onChange: (value: Json) => void;
}

const range = (least: string, most: string): string => `${least} to ${most}`;

/** The limits of a rule and its default, as they are read. */
function limitsOf({ schema, parts, kind }: RuleLine): string {
  const of = (one: typeof schema): string => (one.minimum === undefined || one.maximum === undefined ? '' : range(withUnit(one.minimum, { ...one, unit: one.unit === 'pieces' ? undefined : one.unit } as typeof schema), withUnit(one.maximum, one)));
  const own = kind === 'number' || kind === 'maybe-number' ? of(schema) : [...new Set(parts.map(([, part]) => of(part)))].filter((text) => text !== '').join(' · ');
  const given = typeof schema.default === 'number' ? `default ${withUnit(schema.default, schema)}` : '';
  return [own, given].filter((text) => text !== '').join(' · ');
}

/** One rule as it is changed: picture, input, limits, what it will say, what it said before. */
export function EditRow({ line, content, was, changed, faults, onChange }: EditRowProps) {
  const id = useId();
  const value = valueAt(content, line.keys);
  const bad = faults.length > 0;
  return (
    <li class={`rule edit${changed ? ' changed' : ''}${bad ? ' bad' : ''}`} data-rule={line.keys.join('.')}>
      <RulePicture of={line.pattern} />
      <div class="rule-words">
        <h4>{line.schema.title}</h4>
        {bad ? <p class="quiet">{line.schema.description}</p> : <Sentences said={say(line, value)} />}
        <p class="quiet small" id={id}>{[limitsOf(line), !bad && line.kind !== 'switch' && line.kind !== 'choice' && line.schema.description].filter(Boolean).join('. ')}</p>
      </div>
      <div class="rule-input">
        <RuleInput line={line} value={value} name={nameOf({ line })} describedBy={id} faults={faults} onChange={onChange} />
        {faults.map(({ path, message }) => <p key={path + message} class="fault" role="alert">{message}</p>)}
        {changed && <button type="button" class="push put-back" onClick={() => onChange(valueAt(was, line.keys))}>Put back</button>}
      </div>
    </li>
  );
}
