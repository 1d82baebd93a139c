import { Field } from '../../parts/field.js';
import type { ArrivalDraft } from './draft.js';

export interface ArrivalPartProps {
  readonly arrival: ArrivalDraft;
  readonly change: (arrival: ArrivalDraft) => void;
}

/** Whether the casts are here, and dry enough to be scanned. */
export function ArrivalInputs({ arrival, change }: ArrivalPartProps) {
  const { here, damp, hours, how } = arrival;
  const put = (fields: Partial<ArrivalDraft>): void => change({ ...arrival, ...fields });
  const choice = (says: string, checked: boolean, fields: Partial<ArrivalDraft>) => (
    <label class="option"><input type="radio" name="arrival" checked={checked} onChange={() => put(fields)} /> {says}</label>
  );
  return (
    <>
      <div class="option-row">
        {choice('Here, dry enough to scan', here && !damp, { here: true, damp: false })}
        {choice('Here, still damp', here && damp, { here: true, damp: true })}
        {choice('Still on the way', !here, { here: false })}
      </div>
      {here && damp && (
        <div class="inputs">
          <Field label="To dry for (h)">{(tie) => <input {...tie} inputMode="decimal" autoComplete="off" value={hours} onInput={(e) => put({ hours: e.currentTarget.value })} />}</Field>
          <Field label="How">{(tie) => <input {...tie} maxLength={200} autoComplete="off" value={how} onInput={(e) => put({ how: e.currentTarget.value })} />}</Field>
        </div>
      )}
    </>
  );
}
