import { useEffect, useRef, useState } from 'preact/hooks';
import { Field } from '../../parts/field.js';
import { counted } from '../../parts/figures.js';
import { day } from '../../parts/times.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { useLoaded } from '../../parts/use-loaded.js';
import { ask } from '../../server/ask.js';
import { beginTrial } from '../../server/batches.js';
import type { Page } from '../../server/page.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';

interface CastListed {
  readonly id: string;
  readonly orderNumber: string;
  readonly side: string;
  readonly state: string;
  readonly discipline: string | null;
  readonly createdAt: string;
  readonly currentRevisionId: string | null;
}

const MOST = 50;

const castsFor = async (search: string): Promise<CastListed[]> => {
  const { body } = await ask<Page<CastListed>>('GET', `/casts?limit=100${search === '' ? '' : `&search=${encodeURIComponent(search)}`}`);
  return body.items.filter(({ currentRevisionId }) => currentRevisionId !== null);
};

/** Picks casts and has the rules tried on them; nothing that is there is replaced. */
export function TryOn({ content, onEnd, onBegun }: { readonly content: unknown; readonly onEnd: () => void; readonly onBegun: (batchId: string) => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [search, setSearch] = useState('');
  const { value, problem } = useLoaded(() => castsFor(search.trim()), [search.trim()]);
  const [chosen, setChosen] = useState<ReadonlyMap<string, CastListed>>(new Map());
  const [refused, setRefused] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => dialog.current?.showModal(), []);
  const toggle = (cast: CastListed): void => {
    const next = new Map(chosen);
    if (!next.delete(cast.id)) next.set(cast.id, cast);
    setChosen(next);
  };
  const begin = async (): Promise<void> => {
    setBusy(true);
    try {
      onBegun((await beginTrial(content, [...chosen.keys()])).id);
    } catch (error) {
      setRefused(problemOf(error));
      setBusy(false);
    }
  };
  return (
    <dialog ref={dialog} class="board try-on" aria-label="Try these rules on casts" onClose={onEnd}>
      <h2>Try these rules on casts</h2>
      <p>Each is made again by them and set against its present result. Nothing is replaced.</p>
      <Field label="Find casts by order number">{(tie) => <input {...tie} type="search" value={search} onInput={(event) => setSearch((event.target as HTMLInputElement).value)} />}</Field>
      <ProblemBox problem={problem ?? refused} />
      <ul class="pick">
        {value?.map((cast) => (
          <li key={cast.id}>
            <label class="tick words">
              <input type="checkbox" checked={chosen.has(cast.id)} disabled={chosen.size >= MOST && !chosen.has(cast.id)} onChange={() => toggle(cast)} />
              <strong>{cast.orderNumber}</strong> {cast.side} <span class="quiet">{cast.discipline ?? ''} · {cast.state === 'approved' ? 'approved' : 'not approved'} · {day(cast.createdAt)}</span>
            </label>
          </li>
        ))}
      </ul>
      {value?.length === 0 && <p class="empty">{search === '' ? 'No cast has a result yet; rules are tried on casts that have one.' : 'No cast with a result has this order number.'}</p>}
      <div class="pushes">
        <button type="button" class="push" onClick={() => dialog.current?.close()}>Back</button>
        <button type="button" class="push chief" disabled={chosen.size === 0 || busy} onClick={() => void begin()}>Try on {counted(chosen.size, 'cast')}</button>
      </div>
    </dialog>
  );
}
