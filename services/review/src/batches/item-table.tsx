import { fixed, signed } from '../parts/figures.js';
import { STAGE_WORDS } from '../parts/stage-line.js';
import { girthColumns, ROW_WORDS } from './rows.js';
import type { Row, Sorting } from './rows.js';
import { Windowed } from './windowed.js';

export interface ItemTableProps {
  readonly rows: readonly Row[];
  readonly all: readonly Row[];
  readonly stages: ReadonlyMap<string, string>;
  readonly sorting: Sorting;
  readonly onSort: (sorting: Sorting) => void;
  readonly current: string | null;
  readonly chosen: ReadonlySet<string>;
  readonly choosing: boolean;
  /** Beside an open row: only what names it. */
  readonly narrow: boolean;
  readonly address: (itemId: string) => string;
  readonly onChoose: (itemId: string) => void;
  readonly onMove: (by: number) => void;
  readonly onEnter: () => void;
}

/** In letters of the page; the style sheet says the same. */
const ROW_HEIGHT = 3;

/** The rows of a batch, of which only those in view are there. */
export function ItemTable(props: ItemTableProps) {
  const { rows, all, sorting, onSort, current, narrow, onMove, onEnter } = props;
  const rowHeight = ROW_HEIGHT * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  const girths = narrow ? [] : girthColumns(all);
  const at = rows.findIndex(({ item }) => item.id === current);
  const head = (by: string, words: string, number = true) => (
    <div role="columnheader" class={number ? 'number' : undefined} aria-sort={sorting.by === by ? (sorting.down ? 'descending' : 'ascending') : 'none'}>
      <button type="button" onClick={() => onSort({ by, down: sorting.by === by ? !sorting.down : by !== 'order' })}>
        {words}{sorting.by === by && <span aria-hidden="true">{sorting.down ? ' ↓' : ' ↑'}</span>}
      </button>
    </div>
  );
  const columns = narrow ? '1fr 4.5rem 8rem' : `3rem minmax(13rem, 2fr) 10.5rem 7.5rem 6.5rem repeat(${girths.length}, minmax(4.75rem, 0.7fr)) 5.5rem`;
  return (
    <Windowed
      label="Casts of this batch" count={rows.length} rowHeight={rowHeight} current={at < 0 ? null : at} onMove={onMove} onEnter={onEnter}
      head={(
        <div role="row" class="item-row" style={{ gridTemplateColumns: columns }}>
          {narrow ? <>{head('order', 'Order', false)}{head('largest', 'Largest')}<div role="columnheader">Decision</div></> : (
            <>
              <div role="columnheader"><span class="unseen">Chosen</span></div>
              {head('order', 'Order', false)}
              <div role="columnheader">Decision</div>
              {head('largest', 'Largest, mm')}{head('rms', 'RMS, mm')}
              {girths.map(([id, words]) => <>{head(id, words)}</>)}
              {head('marks', 'Marks')}
            </>
          )}
        </div>
      )}
      row={(i) => <ItemRow key={rows[i].item.id} {...props} row={rows[i]} index={i} columns={columns} girths={girths} />}
    />
  );
}

function ItemRow({ row, index, columns, girths, narrow, current, chosen, choosing, stages, address, onChoose }: ItemTableProps & { readonly row: Row; readonly index: number; readonly columns: string; readonly girths: ReturnType<typeof girthColumns> }) {
  const { item, state, compared } = row;
  const { sign, words } = ROW_WORDS[state];
  const stage = state === 'making' ? stages.get(item.castId) : undefined;
  const doing = stage === undefined ? undefined : (STAGE_WORDS[stage] ?? stage);
  const name = item.orderNumber === null ? 'erased' : `${item.orderNumber} ${item.side}`;
  const decision = <div role="cell" class={`decision ${state}`} title={doing}><span aria-hidden="true">{sign}</span> {doing ?? words}</div>;
  const order = <div role="cell" class="order"><a href={address(item.id)} tabIndex={-1} title={name}>{name}</a>{item.approved && !narrow && <span class="badge">approved</span>}</div>;
  const largest = <div role="cell" class="number">{compared === null ? '–' : fixed(compared.maxMm, 2)}</div>;
  return (
    <div role="row" aria-rowindex={index + 2} class="item-row" aria-current={item.id === current ? 'true' : undefined} style={{ gridTemplateColumns: columns, top: `${index * ROW_HEIGHT}rem` }}>
      {narrow ? <>{order}{largest}{decision}</> : (
        <>
          <div role="cell">{choosing && state === 'to-decide' && <label class="tick"><input type="checkbox" tabIndex={-1} checked={chosen.has(item.id)} onChange={() => onChoose(item.id)} /><span class="unseen">Choose {name}</span></label>}</div>
          {order}{decision}{largest}
          <div role="cell" class="number">{compared === null ? '–' : fixed(compared.rmsMm, 2)}</div>
          {girths.map(([id]) => <div key={id} role="cell" class="number">{girthText(row, id)}</div>)}
          <div role="cell" class="number">{compared === null ? '–' : marksText(compared)}</div>
        </>
      )}
    </div>
  );
}

function girthText({ compared, girths }: Row, id: string): string {
  if (compared === null) return '–';
  const change = girths.get(id);
  if (change !== undefined) return Math.abs(change) < 0.05 ? '0.0' : signed(change);
  const of = compared.girths.find((girth) => girth.id === id);
  return of === undefined || (of.before === null && of.after === null) ? '–' : of.before === null ? 'came' : 'went';
}

const marksText = ({ marksCame, marksWent }: NonNullable<Row['compared']>): string =>
  marksCame.length + marksWent.length === 0 ? '0' : [marksCame.length > 0 && `+${marksCame.length}`, marksWent.length > 0 && `−${marksWent.length}`].filter(Boolean).join(' ');
