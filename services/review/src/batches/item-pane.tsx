import { fixed, signed } from '../parts/figures.js';
import { STAGE_WORDS } from '../parts/stage-line.js';
import { DrawnPictures } from '../parts/surfaces/drawn-pictures.js';
import { TwoSurfaces } from '../parts/surfaces/two-surfaces.js';
import { ROW_WORDS } from './rows.js';
import type { Row } from './rows.js';
import { Trouble } from './trouble.js';

export interface ItemPaneProps {
  readonly row: Row;
  readonly stage: string | undefined;
  readonly maker: boolean;
  readonly back: string;
  readonly onMove: (by: number) => void;
  readonly onAccept: (row: Row) => void;
  readonly onDecline: (row: Row) => void;
  readonly onReopen: (row: Row) => void;
}

/** One cast of a batch: its last before and after, what changed, and the maker's word. */
export function ItemPane({ row, stage, maker, back, onMove, onAccept, onDecline, onReopen }: ItemPaneProps) {
  const { item, state, compared } = row;
  const { revisionId, againstId, side } = item;
  const { sign, words } = ROW_WORDS[state];
  const both = item.state === 'done' && revisionId !== null && againstId !== null;
  return (
    <section class="item-pane" aria-label={`${item.orderNumber ?? ''} ${side ?? ''}`}>
      <div class="page-head">
        <h2>{item.orderNumber ?? 'Erased'} {side}{item.approved && <span class="badge">approved</span>}</h2>
        <div class="pushes">
          {maker && state === 'to-decide' && (
            <>
              <button type="button" class="push chief" title="Key A" onClick={() => onAccept(row)}>{item.approved ? 'Accept: replaces the approved last' : 'Accept'}</button>
              <button type="button" class="push" title="Key D" onClick={() => onDecline(row)}>Decline</button>
            </>
          )}
          {maker && state === 'declined' && <button type="button" class="push" onClick={() => onReopen(row)}>Decide again</button>}
          <button type="button" class="push" title="Key P" onClick={() => onMove(-1)}>Previous</button>
          <button type="button" class="push" title="Key N" onClick={() => onMove(1)}>Next</button>
          <a class="push" href={back}>Close</a>
        </div>
      </div>
      <dl class="figures">
        <div><dt>Decision</dt><dd class={`decision ${state}`}><span aria-hidden="true">{sign}</span> {stage === undefined || state !== 'making' ? words : `being made: ${STAGE_WORDS[stage] ?? stage}`}</dd></div>
        {compared !== null && (
          <>
            <div><dt>Largest change</dt><dd>{fixed(compared.maxMm, 2)} mm</dd></div>
            <div><dt>RMS over the surface</dt><dd>{fixed(compared.rmsMm, 2)} mm</dd></div>
            <div><dt>Marks came, went</dt><dd>{compared.marksCame.length}, {compared.marksWent.length}</dd></div>
          </>
        )}
      </dl>
      <Trouble row={row} />
      {both && (
        <TwoSurfaces
          of={`${againstId} ${revisionId}`} names={['Before', 'After']} side={side ?? 'right'} instead={<DrawnPictures revisionIds={[againstId, revisionId]} names={['Before', 'After']} body="last" />}
          read={async (signal, early) => (await import('../parts/surfaces/read-surface.js')).readBeforeAfter(againstId, revisionId, 'last', signal, early)}
        />
      )}
      {compared !== null && <Girths row={row} />}
      {compared !== null && <Marks row={row} />}
      {both && (
        <p class="pushes">
          <a class="push" href={`/bench/${item.orderId}/${side}`}>Look at the cast on the bench</a>
          <a class="push" href={`/find/compare?first=${againstId}&second=${revisionId}&of=last`}>Where it changed, as a map</a>
          <a class="push" href={`/api/v1/revisions/${againstId}/files/sheet.pdf`} target="_blank" rel="noreferrer">Sheet before</a>
          <a class="push" href={`/api/v1/revisions/${revisionId}/files/sheet.pdf`} target="_blank" rel="noreferrer">Sheet after</a>
        </p>
      )}
    </section>
  );
}

function Girths({ row: { compared } }: { readonly row: Row }) {
  const text = (value: number | null): string => (value === null ? '–' : fixed(value));
  return (
    <table class="rows small-table">
      <caption>Girths of the last, mm</caption>
      <thead><tr><th scope="col">Girth</th><th scope="col" class="number">Before</th><th scope="col" class="number">After</th><th scope="col" class="number">Change</th></tr></thead>
      <tbody>
        {compared?.girths.map(({ id, label, before, after }) => (
          <tr key={id}><th scope="row">{label}</th><td class="number">{text(before)}</td><td class="number">{text(after)}</td><td class="number">{before === null || after === null ? (before === after ? '–' : before === null ? 'came' : 'went') : signed(after - before)}</td></tr>
        ))}
      </tbody>
    </table>
  );
}

function Marks({ row: { compared } }: { readonly row: Row }) {
  const all = [...(compared?.marksCame ?? []).map((mark) => ({ mark, how: 'came' })), ...(compared?.marksWent ?? []).map((mark) => ({ mark, how: 'went' }))];
  if (all.length === 0) return null;
  return (
    <table class="rows small-table">
      <caption>Marks that came and went</caption>
      <thead><tr><th scope="col">Mark</th><th scope="col">What</th><th scope="col" class="number">Depth, mm</th><th scope="col" class="number">Along, across, up, mm</th></tr></thead>
      <tbody>{all.map(({ mark, how }) => <tr key={how + mark.id}><th scope="row">{mark.kind}</th><td>{how}</td><td class="number">{signed(mark.depth, 2)}</td><td class="number">{mark.centre.map((c) => fixed(c, 0)).join(', ')}</td></tr>)}</tbody>
    </table>
  );
}
