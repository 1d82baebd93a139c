import type { ReportedMeasurement } from '@cast-to-last/pipeline/report/report';
import type { BenchWork } from '../order/bench-work.js';
import type { OrderRead, Side } from '../../server/results.js';
import { PairSection } from './pair-section.js';
import { SIDE_WORDS, mm } from '../order/words.js';

/** Measures of both feet beside each other, of the cast or of the last, each with its doubt. */
export function MeasuresPanel({ work, order }: { readonly work: BenchWork; readonly order: OrderRead }) {
  const on = work.display.value.body === 'last' ? 'last' : 'cast';
  const of = (side: Side): readonly ReportedMeasurement[] => work.foot(side)?.report.value?.measurements.filter((m) => m.on === on) ?? [];
  const [left, right] = [of('left'), of('right')];
  const rows = (left.length > 0 ? left : right).map(({ id, label }) => ({ id, label }));
  const tape = order.content.tape;
  return (
    <div class="measures">
      <p class="quiet">Of the {on === 'cast' ? 'cleaned cast' : 'last'}, mm. Show the {on === 'cast' ? 'last' : 'cleaned cast'} to have its own. Each ± holds the value in 95 of 100.</p>
      <table>
        <thead><tr><th scope="col">measure</th>{(['left', 'right'] as const).filter((side) => work.foot(side) !== undefined).map((side) => <th scope="col" key={side}>{SIDE_WORDS[side]}</th>)}<th scope="col">L − R</th></tr></thead>
        <tbody>
          {rows.map(({ id, label }) => {
            const [l, r] = [valueOf(left, id), valueOf(right, id)];
            return (
              <tr key={id}>
                <th scope="row">{label}</th>
                {work.foot('left') !== undefined && <Cell measured={left.find((m) => m.id === id)} tape={on === 'cast' ? (tape?.left as Record<string, number> | undefined)?.[id] : undefined} />}
                {work.foot('right') !== undefined && <Cell measured={right.find((m) => m.id === id)} tape={on === 'cast' ? (tape?.right as Record<string, number> | undefined)?.[id] : undefined} />}
                <td class="number">{l === null || r === null ? '' : mm(l - r)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {work.feet.length === 2 && <PairSection work={work} />}
    </div>
  );
}

const valueOf = (measured: readonly ReportedMeasurement[], id: string): number | null => {
  const found = measured.find((m) => m.id === id);
  return found !== undefined && 'value' in found ? found.value : null;
};

function Cell({ measured, tape }: { readonly measured: ReportedMeasurement | undefined; readonly tape: number | undefined }) {
  if (measured === undefined) return <td />;
  if (!('value' in measured)) return <td class="absent small">{measured.absent}</td>;
  return (
    <td class="number">
      <strong>{mm(measured.value)}</strong>{measured.unit === 'deg' && '°'} <span class="quiet small">± {mm(measured.uncertainty)}</span>
      {tape !== undefined && <span class="quiet small tape">customer’s tape {mm(tape, 0)}</span>}
    </td>
  );
}
