import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { counted } from '../parts/figures.js';
import { ProblemBox } from '../parts/problem-box.js';
import { acceptItems, readWithin } from '../server/batches.js';
import { connected } from '../server/events.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import { session } from '../server/session.js';
import type { Row } from './rows.js';

const AT_A_TIME = 500;
const ASK_AFTER_MS = 250;
const limitOf = (text: string): number | null => {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && Number.isFinite(value) && value >= 0 && value <= 1000 ? value : null;
};

/** Accepts all open rows within limits that the maker sets; how many that are is told first. */
export function AcceptBoard({ batchId, rows, onDone }: { readonly batchId: string; readonly rows: readonly Row[]; readonly onDone: (told: string) => void }) {
  const kept = `limits ${batchId}`;
  const [[surface, girth], setTyped] = useState<readonly [string, string]>(() => JSON.parse(sessionStorage.getItem(kept) ?? '["0.5","1"]') as [string, string]);
  const [within, setWithin] = useState<{ readonly of: string; readonly ids: readonly string[] } | null>(null);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(0);
  const dialog = useRef<HTMLDialogElement>(null);
  const open = rows.filter(({ state }) => state === 'to-decide');
  const [maxMm, girthMm] = [limitOf(surface), limitOf(girth)];
  const key = JSON.stringify([maxMm, girthMm, open.length]);
  useEffect(() => {
    if (maxMm === null || girthMm === null) return undefined;
    const stop = new AbortController();
    const wait = setTimeout(() => {
      readWithin(batchId, { maxMm, girthMm }, stop.signal).then(
        (ids) => {
          setWithin({ of: key, ids });
          setProblem(null);
        },
        (error: unknown) => !stop.signal.aborted && setProblem(problemOf(error)),
      );
    }, ASK_AFTER_MS);
    return () => {
      clearTimeout(wait);
      stop.abort();
    };
  }, [key, connected.value]);
  const openIds = useMemo(() => new Map(open.map((row) => [row.item.id, row])), [rows]);
  // What changed meanwhile, or waits for a new result, is not taken whatever its figures are.
  const ids = within?.of === key ? within.ids.filter((id) => openIds.has(id)) : null;
  const approved = (ids ?? []).filter((id) => openIds.get(id)?.item.approved).length;
  const type = (next: readonly [string, string]): void => {
    setTyped(next);
    sessionStorage.setItem(kept, JSON.stringify(next));
  };
  const take = async (): Promise<void> => {
    if (ids === null || maxMm === null || girthMm === null) return;
    setProblem(null);
    let [taken, left] = [0, [] as { why: string }[]];
    try {
      for (let i = 0; i < ids.length; i += AT_A_TIME) {
        setBusy(i + 1);
        const some = ids.slice(i, i + AT_A_TIME);
        const answer = await acceptItems(batchId, { itemIds: some, approvedSeen: some.filter((id) => openIds.get(id)?.item.approved), within: { maxMm, girthMm } });
        taken += answer.accepted.length;
        left = [...left, ...answer.left];
      }
      dialog.current?.close();
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(0);
      onDone(`${counted(taken, 'cast')} accepted${left.length > 0 ? `; ${left.length} left: ${[...new Set(left.map(({ why }) => why))].join(' ')}` : ''}.`);
    }
  };
  if (open.length === 0) return null;
  return (
    <section class="board accept-board" aria-label="Accept within limits">
      <h2>Accept within limits</h2>
      <label>surface within <span class="with-unit"><input inputMode="decimal" value={surface} aria-invalid={maxMm === null} onInput={(event) => type([(event.target as HTMLInputElement).value, girth])} /> mm</span></label>
      <label>girths within <span class="with-unit"><input inputMode="decimal" value={girth} aria-invalid={girthMm === null} onInput={(event) => type([surface, (event.target as HTMLInputElement).value])} /> mm</span></label>
      <p role="status">{maxMm === null || girthMm === null ? 'A limit is a number of millimetres, 0 to 1000.' : ids === null ? 'Rows are counted …' : <>takes <strong>{ids.length}</strong> of {counted(open.length, 'open row')}{approved > 0 && `, ${approved} approved`}</>}</p>
      <button type="button" class="push chief" disabled={ids === null || ids.length === 0} onClick={() => dialog.current?.showModal()}>Accept {ids === null ? '' : ids.length}</button>
      <ProblemBox problem={problem} />
      <dialog ref={dialog} class="board" aria-label="Accept within limits">
        <h2>Accept {counted(ids?.length ?? 0, 'candidate')}?</h2>
        <p>Each becomes the result of its cast. {approved > 0 && `${counted(approved, 'approved last')} ${approved === 1 ? 'is' : 'are'} replaced and stay${approved === 1 ? 's' : ''} approved, signed by ${session.value?.person.displayName}. `}The results of before are kept and can be gone back to.</p>
        <div class="pushes">
          <button type="button" class="push" onClick={() => dialog.current?.close()}>No</button>
          <button type="button" class="push chief" disabled={busy > 0} onClick={() => void take()}>{busy > 0 ? 'They are accepted …' : 'Accept them'}</button>
        </div>
      </dialog>
    </section>
  );
}
