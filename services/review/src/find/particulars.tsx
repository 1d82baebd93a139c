import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { day } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import type { Answer } from '../server/ask.js';
import { changeCustomer, readCustomer } from '../server/customers.js';
import type { Customer } from '../server/customers.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';

interface Typed {
  readonly number: string;
  readonly name: string;
  readonly contact: string;
  readonly consent: string;
  readonly retainUntil: string;
}

const typedOf = ({ number, name, contact, consent, retainUntil }: Customer): Typed => ({ number, name: name ?? '', contact: contact ?? '', consent: consent?.text ?? '', retainUntil: retainUntil ?? '' });
const orNull = (text: string): string | null => (text.trim() === '' ? null : text.trim());
const LABELS: Readonly<Record<keyof Typed, string>> = { number: 'Customer number', name: 'Name', contact: 'Contact', consent: 'Consent', retainUntil: 'Kept until' };

/** What is known of a customer; changed in place, with what someone else changed meanwhile beside it. */
export function Particulars({ customer, etag, onChanged }: { readonly customer: Customer; readonly etag: string; readonly onChanged: (answer: Answer<Customer>) => void }) {
  const [typed, setTyped] = useState<Typed | null>(null);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [theirs, setTheirs] = useState<Customer | null>(null);
  const [busy, setBusy] = useState(false);
  const overdue = customer.retainUntil !== null && customer.retainUntil < new Date().toISOString().slice(0, 10);
  const put = (field: keyof Typed) => (event: Event): void => setTyped(typed === null ? null : { ...typed, [field]: (event.target as HTMLInputElement).value });
  const fault = (field: string): { fault?: string } => {
    const found = problem?.faults.find(({ path }) => path === field || path.startsWith(`${field}.`));
    return found === undefined ? {} : { fault: found.message };
  };
  const end = (): void => {
    setTyped(null);
    setProblem(null);
    setTheirs(null);
  };
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    if (typed === null) return;
    setBusy(true);
    setProblem(null);
    try {
      const consent = typed.consent.trim() === (customer.consent?.text ?? '') ? customer.consent : typed.consent.trim() === '' ? null : { at: new Date().toISOString(), text: typed.consent.trim() };
      onChanged(await changeCustomer(customer.id, etag, { number: typed.number.trim(), name: orNull(typed.name), contact: orNull(typed.contact), consent, retainUntil: orNull(typed.retainUntil) }));
      end();
    } catch (error) {
      const told = problemOf(error);
      setProblem(told);
      if (told.status === 412) {
        // What was typed stays; saving again goes over what is there now, which is shown.
        const now = await readCustomer(customer.id);
        setTheirs(now.body);
        onChanged(now);
      }
    } finally {
      setBusy(false);
    }
  };
  if (typed === null) {
    return (
      <section class="board particulars" aria-labelledby="particulars-title">
        <div class="page-head"><h2 id="particulars-title">Particulars</h2><button type="button" class="push" onClick={() => setTyped(typedOf(customer))}>Change</button></div>
        <dl>
          <div><dt>Name</dt><dd>{customer.name ?? '–'}</dd></div>
          <div><dt>Contact</dt><dd class="pre">{customer.contact ?? '–'}</dd></div>
          <div><dt>Consent</dt><dd class="pre">{customer.consent === null ? 'No consent is on record.' : `${customer.consent.text} (${day(customer.consent.at)})`}</dd></div>
          <div><dt>Kept until</dt><dd>{customer.retainUntil === null ? 'no day is set' : day(customer.retainUntil)}{overdue && <strong class="overdue"> This day has passed: the customer is to be erased.</strong>}</dd></div>
          <div><dt>Known since</dt><dd>{day(customer.createdAt)}</dd></div>
        </dl>
      </section>
    );
  }
  return (
    <form class="board particulars" aria-label="Particulars" onSubmit={(event) => void save(event)}>
      <h2>Particulars</h2>
      <Field label={LABELS.number} {...fault('number')}>{(tie) => <input {...tie} required maxLength={80} value={typed.number} onInput={put('number')} />}</Field>
      <Field label={LABELS.name} {...fault('name')}>{(tie) => <input {...tie} maxLength={200} autoComplete="off" value={typed.name} onInput={put('name')} />}</Field>
      <Field label={LABELS.contact} {...fault('contact')}>{(tie) => <textarea {...tie} rows={2} maxLength={500} value={typed.contact} onInput={put('contact')} />}</Field>
      <Field label={LABELS.consent} hint="What the customer has agreed to; the day is set when it changes" {...fault('consent')}>{(tie) => <textarea {...tie} rows={3} maxLength={4000} value={typed.consent} onInput={put('consent')} />}</Field>
      <Field label={LABELS.retainUntil} hint="Afterwards the customer is to be erased" {...fault('retainUntil')}>{(tie) => <input {...tie} type="date" value={typed.retainUntil} onInput={put('retainUntil')} />}</Field>
      <ProblemBox problem={problem} />
      {theirs !== null && (
        <div class="theirs">
          <p>There now; what you typed is still above. Saving again goes over it.</p>
          <ul>{(Object.entries(typedOf(theirs)) as [keyof Typed, string][]).filter(([key, value]) => value !== typed[key]).map(([key, value]) => <li key={key}>{LABELS[key]}: <strong>{value === '' ? 'empty' : value}</strong></li>)}</ul>
        </div>
      )}
      <div class="pushes"><button type="button" class="push" onClick={end}>Do not change</button><button class="push chief" disabled={busy}>Save</button></div>
    </form>
  );
}
