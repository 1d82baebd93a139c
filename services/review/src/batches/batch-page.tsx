import { useMemo, useState } from 'preact/hooks';
import { counted } from '../parts/figures.js';
import { useKeys } from '../parts/keys.js';
import { ProblemBox } from '../parts/problem-box.js';
import { usePlace } from '../parts/use-place.js';
import { acceptItems, declineItems, reopenItems } from '../server/batches.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { isAtLeast } from '../server/session.js';
import { AcceptBoard } from './accept-board.js';
import { BatchHead } from './batch-head.js';
import { ItemPane } from './item-pane.js';
import { ItemTable } from './item-table.js';
import { FILTERS, TRIAL_FILTERS, isTrouble, rowOf, sortedRows } from './rows.js';
import type { Filter, Row, Sorting } from './rows.js';
import { useBatch } from './use-batch.js';

/** At most so many items in one request. */
const AT_A_TIME = 500;

/** One batch: how far it is, what each cast would change, and the maker's word on it. */
export function BatchPage({ id, itemId }: { readonly id: string; readonly itemId: string | null }) {
  const { batch, items, whole, stages, problem, refresh } = useBatch(id);
  const { route, query } = usePlace('/batches');
  const [sorting, setSorting] = useState<Sorting>({ by: 'largest', down: true });
  const [search, setSearch] = useState('');
  const [at, setAt] = useState<string | null>(itemId);
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [refused, setRefused] = useState<ServerProblem | null>(null);
  const [told, setTold] = useState<string | null>(null);
  const filter = (FILTERS.find(([key]) => key === query.show)?.[0] ?? 'all') as Filter;
  const trial = batch?.trial === true;
  const all = useMemo(() => [...items.values()].map((item) => rowOf(item, trial)), [items, trial]);
  const rows = useMemo(() => sortedRows(all, filter, search, sorting), [all, filter, search, sorting]);
  const maker = isAtLeast('maker') && batch?.trial === false;
  const asked = filter === 'all' ? '' : `?show=${filter}`;
  const address = (item: string | null): string => `/batches/${id}${item === null ? '' : `/${item}`}${asked}`;
  const openRow = itemId === null ? undefined : all.find(({ item }) => item.id === itemId);
  const current = itemId ?? at;

  const move = (by: number): void => {
    const from = rows.findIndex(({ item }) => item.id === current);
    const next = rows[Math.min(rows.length - 1, Math.max(0, (from < 0 && by < 0 ? 0 : from) + by))];
    if (next === undefined) return;
    setAt(next.item.id);
    if (itemId !== null) route(address(next.item.id), true);
  };
  const act = async (run: () => Promise<string>): Promise<void> => {
    setRefused(null);
    try {
      setTold(await run());
    } catch (error) {
      setRefused(problemOf(error));
    }
    refresh();
  };
  const nameOf = ({ item }: Row): string => `${item.orderNumber ?? 'erased'} ${item.side ?? ''}`;
  const accept = (row: Row): void => void act(async () => {
    const { accepted, left } = await acceptItems(id, { itemIds: [row.item.id], approvedSeen: row.item.approved ? [row.item.id] : [] });
    // What was decided on by someone else before the press is neither taken nor left.
    return accepted.length > 0 ? `${nameOf(row)} accepted.` : `${nameOf(row)} was left: ${left[0]?.why ?? 'It was decided on meanwhile.'}`;
  });
  /** What is approved is looked at before it is replaced. */
  const acceptSeen = (row: Row): void => (row.item.approved && itemId === null ? route(address(row.item.id)) : accept(row));
  const decline = (row: Row): void => void act(async () => {
    await declineItems(id, [row.item.id]);
    return `${nameOf(row)} declined; its last stays as it is.`;
  });
  const reopen = (row: Row): void => void act(async () => {
    await reopenItems(id, [row.item.id]);
    return `${nameOf(row)} is to be decided again.`;
  });
  const declineChosen = (): void => void act(async () => {
    for (let i = 0; i < chosen.size; i += AT_A_TIME) await declineItems(id, [...chosen].slice(i, i + AT_A_TIME));
    setChosen(new Set());
    return `${counted(chosen.size, 'cast')} declined.`;
  });
  const choose = (item: string): void => {
    const next = new Set(chosen);
    if (!next.delete(item)) next.add(item);
    setChosen(next);
  };
  const here = all.find(({ item }) => item.id === current);
  const mayDecide = maker && here?.state === 'to-decide';
  const decides = (press: string, says: string, run: (row: Row) => void) => ({ press, says, run: () => mayDecide && run(here) });
  useKeys('Casts of this batch', [
    { press: 'n', says: 'the next cast', run: () => move(1) },
    { press: 'p', says: 'the one before', run: () => move(-1) },
    { press: 'o', says: 'open the cast, or close it', run: () => route(itemId !== null ? address(null) : address(current)) },
    { press: 'Escape', says: 'close the cast', run: () => itemId !== null && route(address(null)) },
    ...(maker ? [decides('a', 'accept its candidate; one of an approved cast opens first', acceptSeen), decides('d', 'decline it', decline), decides('x', 'choose it, to decline many at once', ({ item }) => itemId === null && choose(item.id))] : []),
  ]);

  if (batch === null) return <main class="batches"><h1>Batch</h1><ProblemBox problem={problem} />{problem === null && <p role="status">One moment …</p>}</main>;
  const counts = new Map<Filter, number>(FILTERS.map(([key]) => [key, all.filter(({ state }) => key === 'all' || (key === 'trouble' ? isTrouble(state) : state === key)).length]));
  return (
    <main class="batches">
      <BatchHead batch={batch} trouble={counts.get('trouble') ?? 0} failed={all.filter(({ state }) => state === 'failed').length} troubleAddress={`/batches/${id}?show=trouble`} short={itemId !== null} onChanged={refresh} />
      <ProblemBox problem={problem ?? refused} />
      {maker && itemId === null && <AcceptBoard batchId={id} rows={all} onDone={(words) => { setTold(words); refresh(); }} />}
      <div class="table-tools">
        <div class="segments" role="group" aria-label="Show">
          {(trial ? TRIAL_FILTERS : FILTERS).map(([key, words]) => <button key={key} type="button" aria-pressed={key === filter} onClick={() => route(`/batches/${id}${itemId === null ? '' : `/${itemId}`}${key === 'all' ? '' : `?show=${key}`}`, true)}>{words} ({counts.get(key)})</button>)}
        </div>
        <label class="find-row"><span class="unseen">Find an order number</span><input type="search" placeholder="Order number" value={search} onInput={(event) => setSearch((event.target as HTMLInputElement).value)} /></label>
        {chosen.size > 0 && <button type="button" class="push" onClick={declineChosen}>Decline {counted(chosen.size, 'chosen cast')}</button>}
      </div>
      <div class="told-line"><p role="status">{told}</p><p class="quiet small keys">Keys: ↑ ↓ rows, Enter opens{maker && ', A accepts, D declines, X chooses'}</p></div>
      <div class={itemId === null ? 'items' : 'items open'}>
        {rows.length > 0 || all.length === 0
          ? (
            <ItemTable
              rows={rows} all={all} stages={stages} sorting={sorting} onSort={setSorting} current={current} chosen={chosen} choosing={maker} narrow={itemId !== null} address={address}
              onChoose={choose} onMove={move} onEnter={() => current !== null && route(address(current))}
            />
          )
          : <p class="empty">No cast of this batch is among these. <a href={`/batches/${id}`}>Show all.</a></p>}
        {itemId !== null && (openRow !== undefined
          ? <ItemPane key={itemId} row={openRow} stage={stages.get(openRow.item.castId)} maker={maker} back={address(null)} onMove={move} onAccept={accept} onDecline={decline} onReopen={reopen} />
          : <p class="empty">{whole ? 'This batch has no such cast.' : 'One moment …'}</p>)}
      </div>
    </main>
  );
}
