import type { Side } from '@cast-to-last/foot/side';
import { useEffect, useState } from 'preact/hooks';
import { askBytes } from '../../server/ask.js';
import type { PlacedFinding } from './cast-picture.js';

const VIEWS = [['inner', 'Inner side'], ['outer', 'Outer side'], ['top', 'Above'], ['sole', 'Sole'], ['toes', 'Toes'], ['heel', 'Heel']] as const;
type View = (typeof VIEWS)[number][0];

/** How a picture lies to the foot, as the service tells it: mm along its axes, pixels of `cell` mm. */
interface PicturePlace {
  readonly axes: { readonly right: readonly number[]; readonly up: readonly number[] };
  readonly origin: readonly [number, number];
  readonly cell: number;
  readonly rows: number;
}

export interface DrawnPictureProps {
  readonly revisionId: string;
  readonly side: Side;
  readonly places: readonly PlacedFinding[];
  readonly chosen: string | null;
  readonly choose: (code: string | null) => void;
}

/** A picture that the service draws, where this browser draws nothing in three dimensions, with the places of the findings on it. */
export function DrawnPicture({ revisionId, side, places, chosen, choose }: DrawnPictureProps) {
  const [view, setView] = useState<View>('inner');
  const [drawn, setDrawn] = useState<{ address: string; place: PicturePlace | null } | null>(null);
  const [size, setSize] = useState<{ width: number; height: number } | null>(null);
  useEffect(() => {
    let current = true;
    let address: string | null = null;
    askBytes(`/revisions/${revisionId}/pictures/${view}`).then(({ bytes, headers }) => {
      if (!current) return;
      address = URL.createObjectURL(new Blob([bytes], { type: 'image/png' }));
      setDrawn({ address, place: JSON.parse(headers.get('Picture-Place') ?? 'null') as PicturePlace | null });
    }, () => current && setDrawn(null));
    return () => {
      current = false;
      if (address !== null) URL.revokeObjectURL(address);
    };
  }, [revisionId, view]);
  const place = drawn?.place ?? null;
  return (
    <div class="drawn-picture">
      <p class="small">This browser draws nothing in three dimensions; the service drew this.</p>
      <div class="cast-views" role="group" aria-label="Views">
        {VIEWS.map(([name, says]) => <button key={name} type="button" class="push small" aria-pressed={view === name} onClick={() => setView(name)}>{says}</button>)}
      </div>
      {drawn !== null && (
        <div class="drawn-sheet">
          <img src={drawn.address} alt={`The ${side} cast: ${VIEWS.find(([name]) => name === view)?.[1]}`} onLoad={({ currentTarget: { naturalWidth, naturalHeight } }) => setSize({ width: naturalWidth, height: naturalHeight })} />
          {place !== null && size !== null && places.map(({ code, at, number, text }) => {
            const along = (axis: readonly number[]): number => axis[0] * at[0] + axis[1] * at[1] + axis[2] * at[2];
            const [x, y] = [(along(place.axes.right) - place.origin[0]) / place.cell, place.rows - 1 - (along(place.axes.up) - place.origin[1]) / place.cell];
            return <button key={code} type="button" class="spot" style={{ left: `${(100 * x) / size.width}%`, top: `${(100 * y) / size.height}%` }} aria-pressed={chosen === code} title={text} aria-label={`Finding ${number}`} onClick={() => choose(code)}>{number}</button>;
          })}
        </div>
      )}
    </div>
  );
}
