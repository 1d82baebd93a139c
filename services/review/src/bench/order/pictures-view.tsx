import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { askBytes } from '../../server/ask.js';
import type { BodyName } from '../scene/foot-stand.js';
import type { BenchWork } from './bench-work.js';
import type { Foot } from './foot.js';
import { useKeys } from './keys.js';
import { BODY_WORDS, SIDE_WORDS } from './words.js';

const VIEWS = ['top', 'sole', 'outer', 'inner', 'heel', 'toes'] as const;
const WORDS = { top: 'top', sole: 'sole', outer: 'outer side', inner: 'inner side', heel: 'heel', toes: 'toes' } as const;

/** How a picture lies to the foot, as the service tells it. */
interface Place {
  readonly axes: { readonly right: readonly number[]; readonly up: readonly number[] };
  readonly origin: readonly [number, number];
  readonly cell: number;
  readonly rows: number;
  readonly seen: readonly string[];
}

/** Pictures made by the service, where this browser draws nothing in three dimensions; all else works as ever. */
export function PicturesView({ work }: { readonly work: BenchWork }) {
  const view = useSignal<(typeof VIEWS)[number]>('outer');
  useKeys(Object.fromEntries(VIEWS.map((name, i) => [String(i + 2), () => void (view.value = name)])));
  const { body, change, rangeMm } = work.display.value;
  return (
    <div class="made-pictures">
      <p class="note-line">This browser draws nothing in three dimensions, so you see pictures made by the service. Marks, measures, decisions and signing work as ever.</p>
      <div class="group" role="group" aria-label="Views">
        {VIEWS.map((name, i) => <button type="button" class="flat" key={name} aria-pressed={view.value === name} onClick={() => void (view.value = name)}><kbd>{i + 2}</kbd>{WORDS[name]}</button>)}
        <button type="button" class="flat" aria-pressed={change} onClick={() => void (work.display.value = { ...work.display.value, change: !change })}>change</button>
      </div>
      <div class="picture-pair">{work.feet.map((foot) => <Picture key={foot.side} work={work} foot={foot} view={view.value} body={body} change={change && body === 'cleaned' ? rangeMm : null} />)}</div>
    </div>
  );
}

interface PictureProps {
  readonly work: BenchWork;
  readonly foot: Foot;
  readonly view: (typeof VIEWS)[number];
  readonly body: BodyName;
  readonly change: number | null;
}

function Picture({ work, foot, view, body, change }: PictureProps) {
  const address = useSignal<string | null>(null);
  const place = useSignal<Place | null>(null);
  const size = useSignal<{ readonly width: number; readonly height: number } | null>(null);
  const image = useRef<HTMLImageElement>(null);
  const revisionId = foot.revision.value?.id;
  useEffect(() => {
    if (revisionId === undefined) return undefined;
    let made: string | null = null;
    let current = true;
    const query = new URLSearchParams({ body, ...(change !== null && { change: String(change) }) });
    askBytes(`/revisions/${revisionId}/pictures/${view}?${query.toString()}`).then(({ bytes, headers }) => {
      if (!current) return;
      made = URL.createObjectURL(new Blob([bytes], { type: 'image/png' }));
      address.value = made;
      place.value = JSON.parse(headers.get('Picture-Place') ?? 'null') as Place | null;
    }, () => current && (address.value = null));
    return () => {
      current = false;
      if (made !== null) URL.revokeObjectURL(made);
    };
  }, [revisionId, view, body, change]);
  const at = place.value;
  const selected = work.selected.value;
  return (
    <figure>
      <figcaption>{SIDE_WORDS[foot.side]}, {BODY_WORDS[body]}, {WORDS[view]}</figcaption>
      {address.value !== null && (
        <div class="picture">
          <img ref={image} src={address.value} alt={`${SIDE_WORDS[foot.side]} ${BODY_WORDS[body]}, ${WORDS[view]}`} onLoad={(event) => void (size.value = { width: event.currentTarget.naturalWidth, height: event.currentTarget.naturalHeight })} />
          {at !== null && size.value !== null && body !== 'last' && foot.marks.value.filter(({ id }) => at.seen.includes(id)).map((mark) => {
            const dot = (axis: readonly number[]): number => axis[0] * mark.centre[0] + axis[1] * mark.centre[1] + axis[2] * mark.centre[2];
            const { width, height } = size.value as { width: number; height: number };
            const [x, y] = [(dot(at.axes.right) - at.origin[0]) / at.cell, at.rows - 1 - (dot(at.axes.up) - at.origin[1]) / at.cell];
            const chosen = selected?.side === foot.side && selected.mark === mark.id;
            return (
              <span key={mark.id} aria-hidden="true" class={`anchor pin ${mark.now}${chosen ? ' chosen' : ''} pressed`} style={{ left: `${(100 * x) / width}%`, top: `${(100 * y) / height}%` }} onClick={() => void (work.selected.value = { side: foot.side, mark: mark.id })}>
                <span class="tag">{mark.number}</span>
              </span>
            );
          })}
        </div>
      )}
    </figure>
  );
}
