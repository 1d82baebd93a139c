import type { Side } from '@cast-to-last/foot/side';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CastScene, Placed } from './cast-scene.js';
import { DrawnPicture } from './drawn-picture.js';

export interface Place {
  readonly code: string;
  /** Foot frame, mm; null where it has no place. */
  readonly at: readonly [number, number, number] | null;
  readonly text: string;
  readonly number: number;
}

/** One that has a place. */
export type PlacedFinding = Place & { readonly at: NonNullable<Place['at']> };

export interface CastPictureProps {
  readonly revisionId: string;
  readonly files: readonly { readonly name: string }[];
  readonly side: Side;
  readonly places: readonly Place[];
  readonly chosen: string | null;
  readonly choose: (code: string | null) => void;
}

/** Directions from which the cast is looked at, foot frame; the inner side is that of the other foot. */
const VIEWS = (side: Side): readonly (readonly [string, readonly [number, number, number]])[] => {
  const inner = side === 'left' ? -1 : 1;
  return [['Inner side', [0, inner, 0.15]], ['Outer side', [0, -inner, 0.15]], ['Above', [0.02, 0, 1]], ['Sole', [0.02, 0, -1]], ['Toes', [1, 0, 0.2]], ['Heel', [-1, 0, 0.2]]];
};

/** The cleaned cast in three dimensions, with a pin at the place of each finding. */
export function CastPicture({ revisionId, files, side, places, chosen, choose }: CastPictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const scene = useRef<CastScene | null>(null);
  const [pins, setPins] = useState<readonly Placed[]>([]);
  const [state, setState] = useState<'opening' | 'open' | 'no-webgl' | 'failed'>('opening');
  const placed = places.filter((place): place is PlacedFinding => place.at !== null);
  const hasFile = files.some(({ name }) => name === 'view-light.glb');

  useEffect(() => {
    if (canvas.current === null || !hasFile) return;
    let gone = false;
    void import('./cast-scene.js').then(async ({ openCastScene, NoWebGl }) => {
      try {
        const opened = await openCastScene(canvas.current as HTMLCanvasElement, `/revisions/${revisionId}/files/view-light.glb`, placed.map(({ at }) => at), setPins);
        if (gone) opened.close();
        else {
          scene.current = opened;
          opened.look(VIEWS(side)[0][1]);
          setState('open');
        }
      } catch (error) {
        if (!gone) setState(error instanceof NoWebGl ? 'no-webgl' : 'failed');
      }
    });
    return () => {
      gone = true;
      scene.current?.close();
      scene.current = null;
    };
  }, [revisionId, hasFile]);
  useEffect(() => {
    const at = placed.find(({ code }) => code === chosen)?.at;
    if (at !== undefined) scene.current?.lookAt(at);
  }, [chosen, state]);

  if (!hasFile) return null;
  return (
    <figure class="cast-picture">
      <div class={`cast-view is-${state}`}>
        <canvas ref={canvas} role="img" aria-label={`The ${side} cast in three dimensions. Drag to turn it.`} />
        {state === 'open' && placed.map(({ code, number, text }, i) => {
          const pin = pins[i];
          return pin === undefined ? null : (
            <button key={code} type="button" class={`spot${pin.behind ? ' far-side' : ''}`} style={{ left: `${pin.x}px`, top: `${pin.y}px` }} aria-pressed={chosen === code} title={text} aria-label={`Finding ${number}: show its place`} onClick={() => choose(code)}>{number}</button>
          );
        })}
        {state === 'opening' && <p role="status">The cast is being fetched …</p>}
        {state === 'no-webgl' && <DrawnPicture revisionId={revisionId} side={side} places={placed} chosen={chosen} choose={choose} />}
        {state === 'failed' && <p>The picture could not be fetched. The findings above hold all the same.</p>}
      </div>
      {state === 'open' && (
        <figcaption class="cast-views" aria-label="Views">
          {VIEWS(side).map(([name, from]) => <button key={name} type="button" class="push small" onClick={() => scene.current?.look(from)}>{name}</button>)}
        </figcaption>
      )}
    </figure>
  );
}
