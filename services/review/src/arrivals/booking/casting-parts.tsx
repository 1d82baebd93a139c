import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import { TAPE_IDS } from './fields.js';
import { FootbedDrawing } from './footbed-drawing.js';
import { OrderInput } from './order-input.js';
import type { FormPart } from './order-input.js';

const LOADS = [['', 'not known'], ['none', 'none: foot hanging'], ['seated', 'seated'], ['half', 'half the weight'], ['full', 'full weight']] as const;

/** How the cast was taken: footbed, load, stance, plaster, drying. */
export function CastingPart(part: FormPart) {
  return (
    <section class="board form-part" aria-labelledby="casting">
      <h2 id="casting">How it was cast</h2>
      <fieldset>
        <legend>Footbed, as it was measured</legend>
        <div class="inputs">
          {['heelHeightMm', 'hingeHeightMm', 'toeHeightMm', 'heelToHingeMm', 'hingeToToeMm'].map((key) => <OrderInput key={key} {...part} path={`footbed.${key}`} />)}
        </div>
        <FootbedDrawing values={part.values} />
      </fieldset>
      <div class="inputs">
        <OrderInput {...part} path="load" choices={LOADS} />
        <OrderInput {...part} path="plaster.layers" />
        <OrderInput {...part} path="plaster.wallMm" />
        <OrderInput {...part} path="drying.hours" />
        <OrderInput {...part} path="drying.how" />
      </div>
      <fieldset>
        <legend>Stance agreed with the customer, in place of the rules'</legend>
        <div class="inputs">
          <OrderInput {...part} path="plan.forwardLeanDeg" />
          <OrderInput {...part} path="plan.rearViewDeg" />
          <OrderInput {...part} path="plan.note" />
        </div>
      </fieldset>
    </section>
  );
}

/** What the customer's own tape gave, foot by foot. */
export function TapePart(part: FormPart) {
  const { values, set, faults } = part;
  const sides = values.sides === 'left' || values.sides === 'right' ? [values.sides] as const : ['left', 'right'] as const;
  const taken = Object.keys(values).filter((path) => path.startsWith('tape.') && values[path].trim() !== '').length;
  const faulty = Object.keys(faults).some((path) => path.startsWith('tape.'));
  return (
    <details class="board form-part" open={faulty || undefined}>
      <summary><h2>Tape measures</h2> <span class="quiet">{taken === 0 ? 'none given' : `${taken} given`}</span></summary>
      <table class="tape-table">
        <thead><tr><td />{sides.map((side) => <th key={side} scope="col">{side} (mm)</th>)}</tr></thead>
        <tbody>
          {TAPE_IDS.map((id) => (
            <tr key={id}>
              <th scope="row">{MEASURE_LABELS[id]}</th>
              {sides.map((side) => {
                const path = `tape.${side}.${id}`;
                return (
                  <td key={side} class="field">
                    <input data-path={path} aria-label={`${MEASURE_LABELS[id]}, ${side}, mm`} aria-invalid={faults[path] !== undefined} aria-describedby={faults[path] === undefined ? undefined : `${path}-fault`} inputMode="decimal" autoComplete="off" value={values[path] ?? ''} onInput={(event) => set(path, event.currentTarget.value)} />
                    {faults[path] !== undefined && <span class="fault" id={`${path}-fault`}>{faults[path]}</span>}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
