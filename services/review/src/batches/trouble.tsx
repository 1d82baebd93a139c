import { time } from '../parts/times.js';
import type { Row } from './rows.js';

/** Why a cast has no candidate, or none that can be taken, and what to do. */
export function Trouble({ row: { item, state } }: { readonly row: Row }) {
  const told = whatToDo(item, state);
  if (told === null) return null;
  const [what, remedy] = told;
  return (
    <div class="problem">
      <p><strong>{what}</strong></p>
      <p>{remedy}</p>
      {state === 'failed' && item.story !== null && item.story.length > 0 && (
        <details><summary>What happened</summary><ul>{item.story.map(({ at, text }) => <li key={at + text}>{time(at)}: {text}</li>)}</ul></details>
      )}
      {item.orderNumber !== null && state === 'refused' && <a href={`/bench/${item.orderId}/${item.side}`}>Look at the cast</a>}
    </div>
  );
}

function whatToDo(item: Row['item'], state: Row['state']): readonly [string, string] | null {
  if (state === 'refused') return [item.refusal?.message ?? 'These rules cannot be obeyed on this cast.', item.refusal?.remedy ?? 'Change the rules or decide on the cast itself.'];
  if (state === 'failed') return ['The program failed at this cast.', 'Have those that failed made again. If it stays so, tell the administrator: the queue shows what happened.'];
  if (state === 'not-compared') return [(item.comparison as { problem: string }).problem, 'Look at both results on the bench and decide there.'];
  if (state === 'overtaken') return ['The cast has another result by now than the one compared with, or is being worked on.', 'Nothing is accepted over it. Begin another batch for it if the rules shall still be applied.'];
  if (state === 'cancelled') return item.revisionId === null ? ['There is nothing to make: the cast was erased or has no scan.', 'Nothing is to be done.'] : ['The batch was ended before this cast was made.', 'Begin another batch to make it.'];
  return null;
}
