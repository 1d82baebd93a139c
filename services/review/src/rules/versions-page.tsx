import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { counted } from '../parts/figures.js';
import { time } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useListed } from '../parts/use-listed.js';
import type { RulesListed } from '../server/rules.js';
import { isAtLeast } from '../server/session.js';
import { BringIn } from './edit/bring-in.js';

const titleOf = ({ name, number }: RulesListed): string => `${name}, version ${number}`;

/** All versions, newest first; which one new scans are worked by. */
export function VersionsPage() {
  const { items, more, busy, problem, showMore } = useListed<RulesListed>('/rules', {}, { first: 100, step: 100 });
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const { route } = useLocation();
  const maker = isAtLeast('maker');
  const inUse = items?.[0];
  const choose = (id: string): void => setChosen(chosen.includes(id) ? chosen.filter((other) => other !== id) : [...chosen.slice(-1), id]);
  const compare = (): void => {
    const order = [...chosen].sort((a, b) => place(b) - place(a));
    route(`/rules/${order[0]}/against/${order[1]}`);
  };
  const place = (id: string): number => items?.findIndex((item) => item.id === id) ?? 0;
  return (
    <main class="rules">
      <div class="page-head">
        <h1>Rules</h1>
        {maker && inUse !== undefined && <BringIn onto={inUse.id} />}
      </div>
      <ProblemBox problem={problem} />
      {inUse !== undefined && (
        <section class="board in-use" aria-label="In use">
          <div>
            <p class="quiet">New scans are worked by</p>
            <h2><a href={`/rules/${inUse.id}`}>{titleOf(inUse)}</a></h2>
            <p class="quiet">since {time(inUse.createdAt)}{inUse.note !== null && <> · {inUse.note}</>}</p>
          </div>
          {maker && <a class="push chief" href={`/rules/${inUse.id}/change`}>Change them</a>}
        </section>
      )}
      {items !== null && items.length > 0 && (
        <>
          <div class="table-tools">
            <h2>All versions</h2>
            <button type="button" class="push" disabled={chosen.length !== 2} onClick={compare}>Compare the two chosen</button>
          </div>
          <div class="wide-table">
            <table class="rows">
              <thead><tr><th scope="col"><span class="unseen">Choose</span></th><th scope="col">Rules</th><th scope="col">Added</th><th scope="col">By</th><th scope="col">Note</th><th scope="col" class="number">Casts made by them</th></tr></thead>
              <tbody>
                {items.map((item) => (
                  <tr key={item.id} class={item === inUse ? 'lit' : undefined}>
                    <td><label class="tick"><input type="checkbox" checked={chosen.includes(item.id)} onChange={() => choose(item.id)} /><span class="unseen">Compare {titleOf(item)}</span></label></td>
                    <th scope="row"><a href={`/rules/${item.id}`}>{titleOf(item)}</a>{item === inUse && <span class="badge">in use</span>}</th>
                    <td>{time(item.createdAt)}</td>
                    <td>{item.personName ?? 'the program'}</td>
                    <td class="note">{item.note ?? ''}</td>
                    <td class="number">{counted(item.casts, 'cast')}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          {more && <button type="button" class="push" disabled={busy} onClick={() => void showMore()}>Show older versions</button>}
        </>
      )}
    </main>
  );
}
