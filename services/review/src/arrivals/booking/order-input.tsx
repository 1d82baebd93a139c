import { Field } from '../../parts/field.js';
import { ORDER_FIELDS, isNumber } from './fields.js';
import type { OrderValues } from './fields.js';

/** What every part of the form is given. */
export interface FormPart {
  readonly values: OrderValues;
  readonly set: (path: string, value: string) => void;
  readonly faults: Readonly<Record<string, string>>;
}

export interface OrderInputProps extends FormPart {
  readonly path: string;
  readonly kind?: 'text' | 'date' | 'long';
  readonly choices?: readonly (readonly [value: string, says: string])[];
  /** Names of what is often typed. */
  readonly offers?: readonly string[];
  readonly focus?: boolean;
}

/** One value of the order with its label, hint and fault. */
export function OrderInput({ path, values, set, faults, kind = 'text', choices, offers, focus = false }: OrderInputProps) {
  const { label, unit, hint } = ORDER_FIELDS[path];
  const value = values[path] ?? '';
  const change = (event: { currentTarget: { value: string } }): void => set(path, event.currentTarget.value);
  return (
    <Field label={unit === undefined ? label : `${label} (${unit})`} hint={hint} fault={faults[path]}>
      {(tie) => {
        if (choices !== undefined) return <select {...tie} data-path={path} value={value} onChange={change}>{choices.map(([of, says]) => <option key={of} value={of}>{says}</option>)}</select>;
        if (kind === 'long') return <textarea {...tie} data-path={path} rows={3} value={value} onInput={change} />;
        const list = offers === undefined ? undefined : `${tie.id}-offers`;
        return (
          <>
            <input {...tie} data-path={path} type={kind === 'date' ? 'date' : 'text'} inputMode={isNumber(path) ? 'decimal' : undefined} autoComplete="off" autofocus={focus} list={list} value={value} onInput={change} />
            {list !== undefined && <datalist id={list}>{offers?.map((offer) => <option key={offer} value={offer} />)}</datalist>}
          </>
        );
      }}
    </Field>
  );
}
