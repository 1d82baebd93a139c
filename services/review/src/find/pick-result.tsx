import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useLoaded } from '../parts/use-loaded.js';
import { useSoon } from '../parts/use-news.js';
import { findCasts } from '../server/customers.js';
import { CAST_WORDS } from './words.js';

/** Finds a cast that has a result and picks it. */
export function PickResult({ title, onPick }: { readonly title: string; readonly onPick: (revisionId: string) => void }) {
  const [typed, setTyped] = useState('');
  const [asked, setAsked] = useState('');
  const soon = useSoon(() => setAsked(typed.trim()), 200);
  const { value, problem } = useLoaded(async () => (await findCasts({ search: asked, limit: '30' })).items.filter(({ currentRevisionId }) => currentRevisionId !== null).slice(0, 8), [asked]);
  return (
    <div class="pick-result">
      <Field label={`${title}: number of the order, number or name of the customer`}>
        {(tie) => <input {...tie} type="search" maxLength={100} autoComplete="off" value={typed} onInput={(event) => { setTyped((event.target as HTMLInputElement).value); soon(); }} />}
      </Field>
      <ProblemBox problem={problem} />
      {value?.length === 0 && <p class="quiet">No cast with a result fits.</p>}
      <ul>
        {value?.map((cast) => (
          <li key={cast.id}>
            <button type="button" class="push" onClick={() => onPick(cast.approvedRevisionId ?? cast.currentRevisionId ?? '')}>{cast.orderNumber} {cast.side}</button>
            <span class="quiet"> {[cast.customerName ?? cast.customerNumber, CAST_WORDS[cast.state].words].filter(Boolean).join(' · ')}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}
