import { useEffect } from 'preact/hooks';
import type { Stage } from '../scene/stage.js';
import { Anchored } from './anchored.js';
import type { BenchWork, Place } from './bench-work.js';

/** The place of a finding, turned to the viewer. */
export function PlaceShown({ work, stage, place }: { readonly work: BenchWork; readonly stage: Stage; readonly place: Place }) {
  useEffect(() => {
    let current = true;
    void work.thread.ask('normalsAt', { body: `${place.side}:cleaned`, points: Float32Array.from(place.at) }).then((normal) => {
      if (current && normal !== null && Math.hypot(...normal) > 0.5) stage.face(place.side, place.at, [...normal]);
    }, () => undefined);
    return () => {
      current = false;
    };
  }, [place]);
  return <Anchored stage={stage} anchors={[{ key: place.word, side: place.side, at: place.at, normal: null, class: 'found-place', shown: place.word, press: () => void (work.place.value = null) }]} />;
}
