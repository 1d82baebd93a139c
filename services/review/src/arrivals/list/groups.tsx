import type { WaitCounts, WaitsFor } from '../../server/arrivals.js';
import { WaitSign } from '../wait-sign.js';
import { WAIT_WORDS } from '../wait-words.js';

/** The groups of the shelf, in the order of a cast's way. */
export const SHOWN_GROUPS = ['post', 'drying', 'scan', 'work', 'trouble', 'maker', 'sent-back', 'recast', 'done'] as const satisfies readonly WaitsFor[];

export interface GroupsProps {
  readonly counts: WaitCounts | null;
  readonly chosen: WaitsFor | null;
  readonly choose: (group: WaitsFor | null) => void;
}

/** How many casts wait for what; pressing one shows those alone, pressing it again shows all. */
export function Groups({ counts, chosen, choose }: GroupsProps) {
  return (
    <ul class="groups" aria-label="Casts by what they wait for">
      {SHOWN_GROUPS.map((group) => (
        <li key={group}>
          <button type="button" class={`wait-group${counts !== null && counts[group] === 0 ? ' none-there' : ''}`} aria-pressed={chosen === group} onClick={() => choose(chosen === group ? null : group)}>
            <WaitSign waits={group} />
            <strong>{counts === null ? '–' : counts[group]}</strong>
            <span>{WAIT_WORDS[group].group}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
