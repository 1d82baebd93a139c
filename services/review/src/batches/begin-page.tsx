import { useEffect, useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { counted } from '../parts/figures.js';
import { day } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useLoaded } from '../parts/use-loaded.js';
import { usePlace } from '../parts/use-place.js';
import { beginBatch, readReach } from '../server/batches.js';
import type { BatchFilter, Reach } from '../server/batch-types.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { listRules } from '../server/rules.js';
import { isAtLeast } from '../server/session.js';

interface Chosen {
  readonly discipline: string;
  readonly state: string;
  readonly from: string;
  readonly to: string;
}

const STATES: readonly (readonly [string, string])[] = [['', 'Any'], ['approved', 'Approved'], ['to-review', 'Waiting for the maker'], ['sent-back', 'Sent back'], ['in-work', 'Being worked on']];

/** As the service takes it: whole days become instants of this place's clock. */
const filterOf = ({ discipline, state, from, to }: Chosen): BatchFilter => ({
  ...(discipline !== '' && { discipline }), ...(state !== '' && { state }),
  ...(from !== '' && { arrivedFrom: new Date(`${from}T00:00:00`).toISOString() }), ...(to !== '' && { arrivedTo: new Date(`${to}T23:59:59.999`).toISOString() }),
});

const REACH_AFTER_MS = 200;

/** Begins a batch; how many casts it takes is told before. */
export function BeginPage() {
  const { query, route } = usePlace('/batches');
  const { value: all, problem } = useLoaded(async () => (await listRules()).items, []);
  const [rulesId, setRulesId] = useState(query.rules ?? '');
  const [name, setName] = useState<string | null>(null);
  const [chosen, setChosen] = useState<Chosen>({ discipline: '', state: '', from: '', to: '' });
  const [reach, setReach] = useState<{ of: string; told: Reach | null; problem: ServerProblem | null }>({ of: '', told: null, problem: null });
  const [refused, setRefused] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  const rules = all?.find(({ id }) => id === rulesId) ?? (rulesId === '' ? all?.[0] : undefined);
  const key = JSON.stringify([rules?.id, chosen]);

  useEffect(() => {
    if (rules === undefined) return undefined;
    const stop = new AbortController();
    const wait = setTimeout(() => {
      readReach(filterOf(chosen), rules.id, stop.signal).then(
        (told) => setReach({ of: key, told, problem: null }),
        (error: unknown) => !stop.signal.aborted && setReach({ of: key, told: null, problem: problemOf(error) }),
      );
    }, REACH_AFTER_MS);
    return () => {
      clearTimeout(wait);
      stop.abort();
    };
  }, [key]);

  if (!isAtLeast('maker')) return <main><h1>Begin a batch</h1><p class="empty">Only a maker begins batches. <a href="/batches">Look at those that there are.</a></p></main>;
  const suggested = rules === undefined ? '' : `${rules.name}, version ${rules.number}`;
  const told = reach.of === key ? reach.told : null;
  const begin = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    if (rules === undefined) return;
    setBusy(true);
    try {
      route(`/batches/${(await beginBatch((name ?? suggested).trim(), rules.id, filterOf(chosen))).id}`, true);
    } catch (error) {
      setRefused(problemOf(error));
      setBusy(false);
    }
  };
  const change = (key_: keyof Chosen) => (event: Event): void => setChosen({ ...chosen, [key_]: (event.target as HTMLInputElement).value });
  return (
    <main class="batches">
      <p><a href="/batches">All batches</a></p>
      <h1>Begin a batch</h1>
      <ProblemBox problem={problem ?? reach.problem ?? refused} />
      <form class="begin" onSubmit={(event) => void begin(event)}>
        <section class="board">
          <h2>Which rules</h2>
          <Field label="Casts are made again by">
            {(tie) => (
              <select {...tie} value={rules?.id ?? ''} onChange={(event) => setRulesId((event.target as HTMLSelectElement).value)}>
                {all?.map((one, i) => <option key={one.id} value={one.id}>{one.name}, version {one.number}{i === 0 ? ' (in use)' : ''}</option>)}
              </select>
            )}
          </Field>
          {rules !== undefined && <p class="quiet">{rules.note ?? ''} <span class="small">Added {day(rules.createdAt)}</span> · <a href={`/rules/${rules.id}`}>Read them</a></p>}
          <Field label="Name of the batch">{(tie) => <input {...tie} value={name ?? suggested} required maxLength={120} onInput={(event) => setName((event.target as HTMLInputElement).value)} />}</Field>
        </section>
        <section class="board">
          <h2>Which casts</h2>
          <Field label="Kind of footwear">
            {(tie) => (
              <select {...tie} value={chosen.discipline} onChange={change('discipline')}>
                <option value="">Any</option>
                {(told ?? reach.told)?.disciplines.map((one) => <option key={one.name} value={one.name}>{one.name} ({counted(one.casts, 'cast')})</option>)}
              </select>
            )}
          </Field>
          <Field label="State">{(tie) => <select {...tie} value={chosen.state} onChange={change('state')}>{STATES.map(([value, words]) => <option key={value} value={value}>{words}</option>)}</select>}</Field>
          <div class="two">
            <Field label="Arrived from">{(tie) => <input {...tie} type="date" value={chosen.from} max={chosen.to === '' ? undefined : chosen.to} onInput={change('from')} />}</Field>
            <Field label="Arrived to">{(tie) => <input {...tie} type="date" value={chosen.to} min={chosen.from === '' ? undefined : chosen.from} onInput={change('to')} />}</Field>
          </div>
        </section>
        <section class="board reach" aria-live="polite">
          <h2>What it takes</h2>
          {told === null ? <p class="quiet">Casts are counted …</p> : <Told reach={told} />}
          <button class="push chief" disabled={busy || told === null || told.casts === 0}>{told === null || told.casts === 0 ? 'Begin' : `Begin with ${counted(told.casts, 'cast')}`}</button>
          <p class="quiet small">Every cast gets a candidate beside its present result. Nothing is replaced before a maker accepts it.</p>
        </section>
      </form>
    </main>
  );
}

function Told({ reach: { casts, approved, byThese, secondsEach } }: { readonly reach: Reach }) {
  if (casts === 0) return <p>No cast with a result fits. Choose another kind, state or time.</p>;
  return (
    <ul>
      <li><strong class="large">{counted(casts, 'cast')}</strong></li>
      <li>{approved === 0 ? 'None of them is approved.' : `${approved === casts ? 'All' : approved} of them ${approved === 1 ? 'is approved and stays' : 'are approved and stay'} so until you accept a candidate.`}</li>
      {byThese > 0 && <li>{byThese === casts ? 'All' : byThese} of them {byThese === 1 ? 'has' : 'have'} a result by these rules already: nothing changes there.</li>}
      {secondsEach !== null && <li>{duration(casts * secondsEach)} of work at most, as casts went lately; what did not change is not made again.</li>}
    </ul>
  );
}

function duration(seconds: number): string {
  if (seconds < 90) return counted(Math.max(1, Math.round(seconds)), 'second');
  if (seconds < 5400) return counted(Math.round(seconds / 60), 'minute');
  return counted(Math.round(seconds / 3600), 'hour');
}
