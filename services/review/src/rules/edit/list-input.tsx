import type { RuleSchema } from '../../server/rule-schema.js';
import { valueAt, withValue } from '../lines.js';
import type { Json } from '../lines.js';
import { NumberInput } from './number-input.js';
import type { RuleInputProps } from './rule-input.js';

const AXES = ['along', 'across', 'up'];

interface ItemPart {
  readonly keys: readonly string[];
  readonly label: string;
  readonly schema: RuleSchema;
}

/** Each number or text of an item; a point is three numbers. */
const partsOf = ({ properties = {} }: RuleSchema): ItemPart[] =>
  Object.entries(properties).flatMap(([key, of]) =>
    of.prefixItems === undefined ? [{ keys: [key], label: of.title ?? key, schema: of }] : of.prefixItems.map((part, i) => ({ keys: [key, String(i)], label: `${of.title ?? key} ${AXES[i]}`, schema: part })));

function newItem({ properties = {} }: RuleSchema): Json {
  return Object.fromEntries(Object.entries(properties).map(([key, of]) =>
    [key, of.default ?? (of.prefixItems !== undefined ? of.prefixItems.map(() => 0) : of.type === 'string' ? '' : key === 'along' ? 0.5 : Math.max(of.minimum ?? 0, 10))]));
}

/** A list of holes or places: each can be taken away, another added. */
export function ListInput({ line, value, name, describedBy, faults, onChange }: RuleInputProps) {
  const items = Array.isArray(value) ? (value as Json[]) : [];
  const schema = line.schema.items ?? {};
  const one = schema.title ?? 'Item';
  return (
    <div class="list-input" role="group" aria-label={name}>
      {items.map((item, i) => (
        <fieldset key={i}>
          <legend>{one} {i + 1}</legend>
          <div class="numbers">
            {partsOf(schema).map(({ keys, label, schema: of }) => {
              const at = `${line.keys.join('.')}[${i}].${keys[0]}`;
              const invalid = faults.some(({ path }) => path === at || path === `${at}[${keys[1]}]`);
              const set = (given: Json): void => onChange(withValue(items, [String(i), ...keys], given));
              return of.type === 'string'
                ? <label key={keys.join()} class="number-input wide"><span class="part">{label}</span><input type="text" maxLength={of.maxLength} value={String(valueAt(item, keys) ?? '')} aria-invalid={invalid} aria-describedby={describedBy} onInput={(event) => set((event.target as HTMLInputElement).value)} /></label>
                : <NumberInput key={keys.join()} label={label} value={valueAt(item, keys)} schema={of} describedBy={describedBy} invalid={invalid} onChange={set} />;
            })}
          </div>
          <button type="button" class="push" onClick={() => onChange(items.filter((_, other) => other !== i))}>Take {one.toLowerCase()} {i + 1} away</button>
        </fieldset>
      ))}
      {items.length < (line.schema.maxItems ?? Infinity) && <button type="button" class="push" onClick={() => onChange([...items, newItem(schema)])}>Add a {one.toLowerCase()}</button>}
    </div>
  );
}
