import { useAsked } from '../../parts/use-asked.js';
import type { Page } from '../../server/page.js';
import { OrderInput } from './order-input.js';
import type { FormPart } from './order-input.js';

interface RulesContent {
  readonly content: { readonly check: { readonly disciplines: Readonly<Record<string, unknown>> } };
}

/** Kinds of footwear that the rules know: those that new scans are worked by. */
function useDisciplines(): readonly string[] {
  const newest = useAsked<Page<{ id: string }>>('/rules?limit=1');
  const id = newest.body?.items[0]?.id;
  const rules = useAsked<RulesContent>(id === undefined ? null : `/rules/${id}`);
  return Object.keys(rules.body?.content.check.disciplines ?? {}).filter((name) => name !== 'other');
}

const SIDES = [['both', 'Both feet'], ['left', 'Left alone'], ['right', 'Right alone']] as const;

/** Number, feet, what it is made for. */
export function OrderPart(part: FormPart) {
  const disciplines = useDisciplines();
  const { values, set, faults } = part;
  return (
    <section class="board form-part" aria-labelledby="order">
      <h2 id="order">Order</h2>
      <div class="inputs">
        <OrderInput {...part} path="orderNumber" focus />
        <OrderInput {...part} path="date" kind="date" />
        <OrderInput {...part} path="discipline" offers={disciplines} />
      </div>
      <fieldset aria-invalid={faults.sides !== undefined}>
        <legend>Feet that are ordered</legend>
        <div class="option-row">
          {SIDES.map(([value, says]) => <label key={value} class="option"><input type="radio" name="sides" checked={values.sides === value} onChange={() => set('sides', value)} /> {says}</label>)}
        </div>
        {faults.sides !== undefined && <span class="fault">{faults.sides}</span>}
      </fieldset>
      <OrderInput {...part} path="remarks" kind="long" />
    </section>
  );
}
