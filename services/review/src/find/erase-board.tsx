import { useRef, useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { eraseCustomer } from '../server/customers.js';
import type { Customer } from '../server/customers.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { isAtLeast } from '../server/session.js';

/** What a customer may ask for: all that is kept of them, and that it is erased. For the administrator. */
export function EraseBoard({ customer, onErased }: { readonly customer: Customer; readonly onErased: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [confirm, setConfirm] = useState('');
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  if (!isAtLeast('administrator')) return null;
  const run = async (act: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      await act();
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  };
  const erase = (event: SubmitEvent): void => {
    event.preventDefault();
    void run(async () => {
      await eraseCustomer(customer.id, confirm.trim());
      dialog.current?.close();
      onErased();
    });
  };
  return (
    <section class="board rights" aria-labelledby="rights-title">
      <h2 id="rights-title">What the customer may ask for</h2>
      <div class="pushes">
        <a class="push" href={`/api/v1/customers/${customer.id}/archive`} download>Save all that is kept as one file</a>
        <button type="button" class="push grave" disabled={busy} onClick={() => dialog.current?.showModal()}>Erase the customer</button>
      </div>
      <ProblemBox problem={problem} />
      <dialog ref={dialog} class="board" aria-label="Erase the customer">
        <form onSubmit={erase} class="erase">
          <h2>Erase {customer.name ?? customer.number}?</h2>
          <p>Orders, casts, scans, photos, lasts, sheets and the history of the feet are taken away, here and from the record of changes. The number stays, and that it was erased, by whom and when. It cannot be undone.</p>
          <Field label={`Type the number ${customer.number} to confirm`}>{(tie) => <input {...tie} value={confirm} autoComplete="off" onInput={(event) => setConfirm((event.target as HTMLInputElement).value)} />}</Field>
          <ProblemBox problem={problem} />
          <div class="pushes">
            <button type="button" class="push" onClick={() => dialog.current?.close()}>Keep the customer</button>
            <button class="push grave" disabled={busy || confirm.trim() !== customer.number}>Erase for good</button>
          </div>
        </form>
      </dialog>
    </section>
  );
}
