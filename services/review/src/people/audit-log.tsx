import { useEffect, useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { time } from '../parts/times.js';
import { useAsked } from '../parts/use-asked.js';
import { ask } from '../server/ask.js';
import type { Page } from '../server/page.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import type { Person } from '../server/session.js';

interface Entry {
  readonly seq: number;
  readonly at: string;
  readonly actorKind: 'person' | 'station' | 'program';
  readonly actorId: string | null;
  readonly kind: string;
  readonly subjectTable: string;
  readonly subjectId: string;
  readonly sha256: string;
}

/** What kinds begin with, in words. */
const KINDS = [
  ['', 'anything'], ['order.', 'orders'], ['customer.', 'customers'], ['cast.', 'casts'], ['scan.', 'scans'], ['revision.', 'results and decisions'], ['job.', 'jobs'], ['rules.', 'rules'], ['batch.', 'batches'],
  ['person.', 'accounts'], ['token.', 'scanning stations'], ['scanner.', 'scanners'], ['first-account', 'the first account'],
] as const;
const AT_ONCE = 50;

/** What was done, by whom and when; each entry is chained to the one before by its hash. */
export function AuditLog() {
  const [filter, setFilter] = useState<Readonly<Record<'kind' | 'actor' | 'from' | 'to', string>>>({ kind: '', actor: '', from: '', to: '' });
  const [entries, setEntries] = useState<readonly Entry[] | null>(null);
  const [next, setNext] = useState<string | null>(null);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const people = useAsked<Page<Person>>('/people?limit=200');
  const stations = useAsked<Page<{ id: string; name: string }>>('/tokens?limit=200');
  const read = async (after: string | null): Promise<void> => {
    const asked = new URLSearchParams({ limit: String(AT_ONCE) });
    if (filter.kind !== '') asked.set('kind', filter.kind);
    if (filter.actor !== '') asked.set('actor', filter.actor);
    if (filter.from !== '') asked.set('from', new Date(`${filter.from}T00:00:00`).toISOString());
    if (filter.to !== '') asked.set('to', new Date(`${filter.to}T23:59:59.999`).toISOString());
    if (after !== null) asked.set('after', after);
    try {
      const { body } = await ask<Page<Entry>>('GET', `/audit?${asked}`);
      setEntries((before) => (after === null ? body.items : [...(before ?? []), ...body.items]));
      setNext(body.next);
      setProblem(null);
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  useEffect(() => void read(null), [filter]);
  const names = new Map([...(people.body?.items ?? []).map(({ id, displayName }) => [id, displayName] as const), ...(stations.body?.items ?? []).map(({ id, name }) => [id, `station ${name}`] as const)]);
  const put = (name: keyof typeof filter) => (event: { currentTarget: { value: string } }) => setFilter({ ...filter, [name]: event.currentTarget.value });
  return (
    <>
      <h1>Log</h1>
      <form class="log-filter" onSubmit={(event) => event.preventDefault()}>
        <Field label="What">{(tie) => <select {...tie} value={filter.kind} onChange={put('kind')}>{KINDS.map(([kind, says]) => <option key={kind} value={kind}>{says}</option>)}</select>}</Field>
        <Field label="By">{(tie) => <select {...tie} value={filter.actor} onChange={put('actor')}><option value="">anyone</option>{[...names].map(([id, name]) => <option key={id} value={id}>{name}</option>)}</select>}</Field>
        <Field label="From">{(tie) => <input {...tie} type="date" value={filter.from} onChange={put('from')} />}</Field>
        <Field label="To">{(tie) => <input {...tie} type="date" value={filter.to} onChange={put('to')} />}</Field>
      </form>
      <ProblemBox problem={problem} />
      {entries?.length === 0 && <p class="quiet">Nothing of the kind was done.</p>}
      {(entries?.length ?? 0) > 0 && (
        <div class="table-scroll" tabIndex={0}>
          <table class="people-rows">
            <thead><tr><th scope="col">No.</th><th scope="col">When</th><th scope="col">Who</th><th scope="col">What</th><th scope="col">To</th><th scope="col">Hash</th></tr></thead>
            <tbody>{entries?.map(({ seq, at, actorKind, actorId, kind, subjectTable, subjectId, sha256 }) => (
              <tr key={seq}>
                <td class="narrow">{seq}</td><td class="narrow">{time(at)}</td><td>{actorId === null ? 'the program' : (names.get(actorId) ?? actorKind)}</td><td>{kind.replaceAll(/[.-]/g, ' ')}</td>
                <td><Subject table={subjectTable} id={subjectId} name={names.get(subjectId)} /></td><td class="narrow quiet small" title={sha256}>{sha256.slice(0, 10)}</td>
              </tr>
            ))}</tbody>
          </table>
        </div>
      )}
      {next !== null && <button type="button" class="push show-more" onClick={() => void read(next)}>Show earlier ones</button>}
    </>
  );
}

function Subject({ table, id, name }: { readonly table: string; readonly id: string; readonly name: string | undefined }) {
  const says = `${table.replace(/s$/, '').replaceAll('_', ' ')} ${name ?? id.slice(0, 8)}`;
  return table === 'orders' ? <a href={`/arrivals/${id}`}>{says}</a> : <span title={id}>{says}</span>;
}
