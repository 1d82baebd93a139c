import { useState } from 'preact/hooks';

export interface DrawnPicturesProps {
  readonly revisionIds: readonly [string, string];
  readonly names: readonly [string, string];
  readonly body: 'cleaned' | 'last';
}

const VIEWS = [['outer', 'Outer side'], ['inner', 'Inner side'], ['sole', 'Sole'], ['top', 'From above'], ['heel', 'Heel'], ['toes', 'Toes']] as const;

/** Two results as the service draws them, where the browser draws nothing in 3D. */
export function DrawnPictures({ revisionIds, names, body }: DrawnPicturesProps) {
  const [view, setView] = useState<(typeof VIEWS)[number]>(VIEWS[0]);
  const [missing, setMissing] = useState<ReadonlySet<string>>(new Set());
  return (
    <div class="drawn-pictures">
      <p class="quiet">This browser draws nothing in 3D here; these are pictures of the service.</p>
      <div class="segments" role="group" aria-label="From where">
        {VIEWS.map((one) => <button key={one[0]} type="button" aria-pressed={one === view} onClick={() => setView(one)}>{one[1]}</button>)}
      </div>
      <div class="pictures">
        {revisionIds.map((id, i) => {
          const address = `/api/v1/revisions/${id}/pictures/${view[0]}?body=${body}`;
          return (
            <figure key={id}>
              {missing.has(address) ? <p class="empty">The service has no picture of this result.</p> : <img key={address} src={address} alt={`${names[i]}, ${view[1].toLowerCase()}`} onError={() => setMissing(new Set([...missing, address]))} />}
              <figcaption>{names[i]}</figcaption>
            </figure>
          );
        })}
      </div>
    </div>
  );
}
