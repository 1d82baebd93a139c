import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { fixed, signed } from '../parts/figures.js';
import { day } from '../parts/times.js';
import type { CastOfHistory } from '../server/customers.js';
import { GrowthChart } from './growth-chart.js';
import { CAST_WORDS } from './words.js';

export interface HistoryProps {
  /** Newest first; each has measures. */
  readonly casts: readonly CastOfHistory[];
  readonly picked: readonly string[];
  readonly onPick: (revisionId: string) => void;
  readonly children: ComponentChildren;
}

export interface PlacedMeasure {
  readonly cast: CastOfHistory;
  readonly value: number;
  readonly uncertainty: number;
}

const MEASURES_FIRST = ['foot-length', 'ball-girth', 'instep-girth', 'short-heel-girth', 'ball-width', 'arch-height'];

/** One measure of both feet over the years, as a chart and as a table. */
export function History({ casts, picked, onPick, children }: HistoryProps) {
  const labels = new Map(casts.flatMap(({ details }) => Object.entries(details).map(([id, { label, unit }]) => [id, { label, unit }] as const)));
  const ids = [...MEASURES_FIRST.filter((id) => labels.has(id)), ...[...labels.keys()].filter((id) => !MEASURES_FIRST.includes(id))];
  const [chosen, setChosen] = useState(ids[0]);
  const { label, unit } = labels.get(chosen) ?? { label: chosen, unit: 'mm' as const };
  const unitWord = unit === 'deg' ? '°' : 'mm';
  const of = (side: string): PlacedMeasure[] => casts.filter((cast) => cast.side === side && cast.measures[chosen] !== undefined)
    .map((cast) => ({ cast, value: cast.measures[chosen], uncertainty: cast.details[chosen]?.uncertainty ?? 0 })).sort((a, b) => (a.cast.day < b.cast.day ? -1 : 1));
  const sides = [{ side: 'left', points: of('left') }, { side: 'right', points: of('right') }] as const;
  return (
    <div class="history">
      <div class="table-tools">
        <Field label="Measure">{(tie) => <select {...tie} value={chosen} onChange={(event) => setChosen((event.target as HTMLSelectElement).value)}>{ids.map((id) => <option key={id} value={id}>{labels.get(id)?.label}</option>)}</select>}</Field>
        <ul class="growth">{sides.map(({ side, points }) => points.length > 1 && <li key={side}>{side}: {grown(points, unitWord)}</li>)}</ul>
      </div>
      <div class="history-parts">
        <GrowthChart sides={sides} label={label} unit={unitWord} />
        <div class="wide-table">
          <table class="rows">
            <caption class="unseen">{label} of both feet by day</caption>
            <thead><tr><th scope="col"><span class="unseen">Choose</span></th><th scope="col">Day</th><th scope="col">Foot</th><th scope="col" class="number">{label}, {unitWord}</th><th scope="col">Order</th><th scope="col">State</th></tr></thead>
            <tbody>
              {casts.map((cast) => {
                const { revisionId } = cast;
                const value = cast.measures[chosen];
                return (
                  <tr key={cast.castId}>
                    <td>{revisionId !== null && <label class="tick"><input type="checkbox" checked={picked.includes(revisionId)} onChange={() => onPick(revisionId)} /><span class="unseen">Compare {cast.side} of {day(cast.day)}, order {cast.orderNumber}</span></label>}</td>
                    <th scope="row" class="nowrap">{day(cast.day)}</th>
                    <td>{cast.side}</td>
                    <td class="number">{value === undefined ? 'not taken' : <>{fixed(value)} <span class="quiet">± {fixed(cast.details[chosen]?.uncertainty ?? 0)}</span></>}</td>
                    <td><a href={`/bench/${cast.orderId}/${cast.side}`}>{cast.orderNumber}</a></td>
                    <td class="nowrap"><span aria-hidden="true">{CAST_WORDS[cast.state].sign}</span> {CAST_WORDS[cast.state].words}</td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </div>
      </div>
      {children}
    </div>
  );
}

/** From the first cast to the last, and whether that is more than the measures are good for. */
function grown(points: readonly PlacedMeasure[], unit: string): string {
  const [first, last] = [points[0], points[points.length - 1]];
  const change = last.value - first.value;
  const doubt = Math.hypot(first.uncertainty, last.uncertainty);
  return `${signed(change)} ${unit} since ${day(first.cast.day)} (± ${fixed(doubt)})${Math.abs(change) <= doubt ? ', no more than the measures are good for' : ''}`;
}
