import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Side } from '../../server/results.js';
import type { Stage } from '../scene/stage.js';

export interface Anchor {
  readonly key: string;
  readonly side: Side;
  readonly at: readonly [number, number, number];
  /** Of the surface there; what looks away from the viewer is drawn weaker. Null: it always faces. */
  readonly normal: readonly number[] | null;
  readonly shown: ComponentChildren;
  readonly class: string;
  readonly press?: () => void;
}

/** Words and pins that lie over the scene and go with it. For the eye and the pointer: what they say stands in a list as well. */
export function Anchored({ stage, anchors }: { readonly stage: Stage; readonly anchors: readonly Anchor[] }) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const place = (): void => {
      const children = host.current?.children;
      if (children === undefined) return;
      anchors.forEach(({ side, at, normal }, i) => {
        const element = children[i] as HTMLElement | undefined;
        if (element === undefined) return;
        const spot = stage.project(side, at, normal);
        element.hidden = spot === null;
        if (spot === null) return;
        element.style.transform = `translate(${spot.x.toFixed(1)}px, ${spot.y.toFixed(1)}px)`;
        element.classList.toggle('away', !spot.faces);
      });
    };
    stage.drawn.add(place);
    stage.draw();
    return () => void stage.drawn.delete(place);
  }, [stage, anchors]);
  return (
    <div class="anchored" ref={host} aria-hidden="true">
      {anchors.map(({ key, shown, class: name, press }) => (
        <span key={key} class={`anchor ${name}${press === undefined ? '' : ' pressed'}`} onClick={press}><span class="tag">{shown}</span></span>
      ))}
    </div>
  );
}
