import { useState } from 'preact/hooks';
import { Field } from '../../parts/field.js';
import { useAsked } from '../../parts/use-asked.js';
import { useSoon } from '../../parts/use-news.js';
import type { Page } from '../../server/page.js';
import type { CustomerDraft } from './draft.js';
import { NO_CUSTOMER } from './draft.js';

interface KnownCustomer {
  readonly id: string;
  readonly number: string;
  readonly name: string | null;
}

export interface CustomerPartProps {
  readonly customer: CustomerDraft;
  readonly change: (customer: CustomerDraft) => void;
  /** By `customer.` and the field. */
  readonly faults: Readonly<Record<string, string>>;
}

/** Whose order it is: found among the customers, or added with what they agreed to. */
export function CustomerPart({ customer, change, faults }: CustomerPartProps) {
  const put = (fields: Partial<CustomerDraft>): void => change({ ...customer, ...fields });
  return (
    <section class="board form-part" aria-labelledby="customer">
      <h2 id="customer">Customer</h2>
      {customer.which === 'known' && (
        <p class="chosen-customer">
          <span><strong>{customer.name === '' ? customer.number : customer.name}</strong>{customer.name !== '' && <span class="quiet"> {customer.number}</span>}</span>
          <button type="button" class="push" onClick={() => change(NO_CUSTOMER)}>Another one</button>
        </p>
      )}
      {customer.which === 'none' && <FindCustomer choose={({ id, number, name }) => put({ which: 'known', id, number, name: name ?? '' })} add={(number) => put({ which: 'new', number })} />}
      {customer.which === 'new' && (
        <>
          <div class="inputs">
            <Field label="Customer number" hint="empty: one is given" fault={faults['customer.number']}>{(tie) => <input {...tie} maxLength={80} autoComplete="off" value={customer.number} onInput={(e) => put({ number: e.currentTarget.value })} />}</Field>
            <Field label="Name (may be left out)" fault={faults['customer.name']}>{(tie) => <input {...tie} maxLength={200} autoComplete="off" value={customer.name} onInput={(e) => put({ name: e.currentTarget.value })} />}</Field>
            <Field label="Contact (may be left out)" fault={faults['customer.contact']}>{(tie) => <input {...tie} maxLength={500} autoComplete="off" value={customer.contact} onInput={(e) => put({ contact: e.currentTarget.value })} />}</Field>
            <Field label="Keep until" hint="afterwards it is to be erased" fault={faults['customer.retainUntil']}>{(tie) => <input {...tie} type="date" value={customer.retainUntil} onInput={(e) => put({ retainUntil: e.currentTarget.value })} />}</Field>
          </div>
          <Field label="Consent" fault={faults['customer.consent']}>{(tie) => <textarea {...tie} rows={3} maxLength={4000} value={customer.consent} onInput={(e) => put({ consent: e.currentTarget.value })} />}</Field>
          <label class="option"><input type="checkbox" checked={customer.agreed} onChange={(e) => put({ agreed: e.currentTarget.checked })} /> The customer has agreed to this</label>
          <button type="button" class="push" onClick={() => change(NO_CUSTOMER)}>Look for a known customer instead</button>
        </>
      )}
    </section>
  );
}

function FindCustomer({ choose, add }: { readonly choose: (known: KnownCustomer) => void; readonly add: (number: string) => void }) {
  const [typed, setTyped] = useState('');
  const [asked, setAsked] = useState('');
  const soon = useSoon(() => setAsked(typed.trim()), 200);
  const found = useAsked<Page<KnownCustomer>>(asked === '' ? null : `/customers?limit=8&search=${encodeURIComponent(asked)}`);
  return (
    <>
      <Field label="Number or name" hint="An order may be booked in without a customer.">
        {(tie) => <input {...tie} type="search" autoComplete="off" maxLength={80} value={typed} onInput={(e) => {
          setTyped(e.currentTarget.value);
          soon();
        }} />}
      </Field>
      <div class="found-customers" aria-live="polite">
        {asked !== '' && found.body?.items.map((known) => (
          <button key={known.id} type="button" class="push" onClick={() => choose(known)}>{known.name ?? known.number}{known.name !== null && <span class="quiet"> {known.number}</span>}</button>
        ))}
        {asked !== '' && found.body?.items.length === 0 && <span class="quiet">No customer like “{asked}”.</span>}
      </div>
      <button type="button" class="push" onClick={() => add('')}>Add a new customer</button>
    </>
  );
}
