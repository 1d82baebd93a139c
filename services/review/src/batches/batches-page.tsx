import { counted } from '../parts/figures.js';
import { time } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useListed } from '../parts/use-listed.js';
import { useNews } from '../parts/use-news.js';
import type { Batch } from '../server/batch-types.js';
import { isAtLeast } from '../server/session.js';
import { STATE_WORDS } from './state-words.js';

/** All batches and trials, newest first. */
export function BatchesPage() {
  const { items, more, busy, problem, showMore, again } = useListed<Batch>('/batches', {});
  const refresh = (): void => void again();
  useNews({ batch: refresh, missed: refresh });
  return (
    <main class="batches">
      <div class="page-head">
        <h1>Batches</h1>
        {isAtLeast('maker') && <a class="push chief" href="/batches/new">Begin a batch</a>}
      </div>
      <ProblemBox problem={problem} />
      {items?.length === 0 && problem === null && (
        <p class="empty">No batch was begun yet. A batch makes casts again by other rules and lays every change before the maker; nothing that is approved is replaced before that.</p>
      )}
      {items !== null && items.length > 0 && (
        <div class="wide-table">
          <table class="rows">
            <thead><tr><th scope="col">Batch</th><th scope="col">Rules</th><th scope="col">State</th><th scope="col">How far</th><th scope="col">Decided</th><th scope="col">Begun</th><th scope="col">By</th></tr></thead>
            <tbody>{items.map((batch) => <Row key={batch.id} batch={batch} />)}</tbody>
          </table>
        </div>
      )}
      {more && <button type="button" class="push" disabled={busy} onClick={() => void showMore()}>Show older batches</button>}
    </main>
  );
}

function Row({ batch }: { readonly batch: Batch }) {
  const { id, name, trial, rulesId, rulesName, rulesNumber, state, casts, counts: { done, failed, accepted, declined }, createdAt, personName } = batch;
  const { sign, words } = STATE_WORDS[state];
  return (
    <tr>
      <th scope="row"><a href={`/batches/${id}`}>{name}</a>{trial && <span class="badge">trial</span>}</th>
      <td>{trial ? <a href={`/rules/${rulesId}`}>as they were tried</a> : <a href={`/rules/${rulesId}`}>{rulesName}, version {rulesNumber}</a>}</td>
      <td class="nowrap"><span aria-hidden="true">{sign} </span>{words}</td>
      <td><progress max={casts} value={done + failed} aria-label="Casts made" /> <span class="nowrap">{done + failed} of {counted(casts, 'cast')}{failed > 0 && `, ${failed} without a result`}</span></td>
      <td class="nowrap">{trial ? '–' : `${accepted} accepted, ${declined} declined`}</td>
      <td class="nowrap">{time(createdAt)}</td>
      <td>{personName ?? 'the program'}</td>
    </tr>
  );
}
