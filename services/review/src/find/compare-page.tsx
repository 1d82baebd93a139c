import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { day } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useLoaded } from '../parts/use-loaded.js';
import { usePlace } from '../parts/use-place.js';
import { ask } from '../server/ask.js';
import { compareResults } from '../server/comparisons.js';
import type { Comparison } from '../server/comparisons.js';
import type { Side } from '../server/results.js';
import { ComparedFigures } from './compared-figures.js';
import { DeviationView } from './deviation-view.js';
import { PickResult } from './pick-result.js';

interface ResultNamed {
  readonly id: string;
  readonly number: number;
  readonly castId: string;
  readonly rules: { readonly id: string; readonly name: string; readonly number: number };
  readonly createdAt: string;
  readonly side: Side;
  readonly orderId: string;
  readonly orderNumber: string;
}

async function readNamed(id: string): Promise<ResultNamed> {
  const { body: revision } = await ask<Omit<ResultNamed, 'side' | 'orderId' | 'orderNumber'>>('GET', `/revisions/${id}`);
  const { body: cast } = await ask<{ side: Side; orderId: string; orderNumber: string }>('GET', `/casts/${revision.castId}`);
  return { ...revision, side: cast.side, orderId: cast.orderId, orderNumber: cast.orderNumber };
}

/** Any two results against each other: casts or lasts, of one foot or both, of one customer or two. The address names them. */
export function ComparePage() {
  const { query, route } = usePlace('/find');
  const { first = '', second = '' } = query;
  const of = query.of === 'last' ? 'last' : 'cast';
  const go = (changed: Record<string, string>): void => route(`/find/compare?${new URLSearchParams({ ...(first !== '' && { first }), ...(second !== '' && { second }), of, ...changed }).toString()}`);
  return (
    <main class="find compare">
      <p><a href="/find">Find</a></p>
      <div class="page-head">
        <h1>Two {of === 'last' ? 'lasts' : 'casts'} compared</h1>
        <div class="pushes">
          <div class="segments" role="group" aria-label="What is compared">
            <button type="button" aria-pressed={of === 'cast'} onClick={() => go({ of: 'cast' })}>Casts</button>
            <button type="button" aria-pressed={of === 'last'} onClick={() => go({ of: 'last' })}>Lasts</button>
          </div>
          {first !== '' && second !== '' && <button type="button" class="push" onClick={() => go({ first: second, second: first })}>The other way round</button>}
        </div>
      </div>
      <div class="pair">
        <Picked title="First" id={first} onPick={(id) => go({ first: id })} />
        <Picked title="Second" id={second} onPick={(id) => go({ second: id })} />
      </div>
      {first !== '' && second !== '' && <Compared key={`${first} ${second} ${of}`} first={first} second={second} of={of} />}
    </main>
  );
}

interface RevisionListed {
  readonly id: string;
  readonly number: number;
  readonly state: string;
  readonly origin: string;
  readonly createdAt: string;
}

/** Which result of the cast: each that was made can be compared. */
function Results({ title, of, onPick }: { readonly title: string; readonly of: ResultNamed; readonly onPick: (id: string) => void }) {
  const { value } = useLoaded(async () => (await ask<{ items: RevisionListed[] }>('GET', `/casts/${of.castId}/revisions?limit=200`)).body.items.filter(({ state }) => state === 'done'), [of.castId]);
  if (value === undefined || value.length < 2) return null;
  return (
    <Field label={`${title}: which result of this cast`}>
      {(tie) => (
        <select {...tie} value={of.id} onChange={(event) => onPick((event.target as HTMLSelectElement).value)}>
          {value.map((one) => <option key={one.id} value={one.id}>result {one.number}, {day(one.createdAt)}{one.origin === 'batch' ? ', of a batch' : ''}</option>)}
        </select>
      )}
    </Field>
  );
}

function Picked({ title, id, onPick }: { readonly title: string; readonly id: string; readonly onPick: (id: string) => void }) {
  const { value, problem } = useLoaded(async () => (id === '' ? null : readNamed(id)), [id]);
  const [picking, setPicking] = useState(false);
  return (
    <section class="board picked" aria-label={title}>
      <p class="quiet small">{title}</p>
      {value != null && !picking && (
        <div class="page-head">
          <p><strong><a href={`/bench/${value.orderId}/${value.side}`}>{value.orderNumber} {value.side}</a></strong> <span class="quiet">result {value.number}, {day(value.createdAt)}, by {value.rules.name} {value.rules.number}</span></p>
          <button type="button" class="push" onClick={() => setPicking(true)}>Another one</button>
        </div>
      )}
      {value != null && !picking && <Results title={title} of={value} onPick={onPick} />}
      <ProblemBox problem={problem} />
      {(id === '' || picking || problem !== null) && <PickResult title={title} onPick={(picked) => { setPicking(false); onPick(picked); }} />}
    </section>
  );
}

function Compared({ first, second, of }: { readonly first: string; readonly second: string; readonly of: 'cast' | 'last' }) {
  const { value, problem, again } = useLoaded<Comparison>(() => compareResults(first, second, of), [first, second, of]);
  if (value === undefined) {
    return problem === null
      ? <p class="empty" role="status">The two are laid on each other; this takes some seconds the first time …</p>
      : <><ProblemBox problem={problem} /><button type="button" class="push" onClick={again}>Try again</button></>;
  }
  return (
    <>
      <DeviationView comparison={value} />
      <ComparedFigures report={value.report} of={of} />
    </>
  );
}
