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
  /** By how many pixels the pointer drew it. */
  readonly drag?: (dx: number, dy: number) => void;
}

export interface AnchoredProps {
  readonly stage: Stage;
  readonly anchors: readonly Anchor[];
  /** Least distance between two of them from above to below, in letters of the page; they give way downwards. */
  readonly apart?: number;
}

/** Words and pins that lie over the scene and go with it. For the eye and the pointer: what they say stands in a list as well. */
export function Anchored({ stage, anchors, apart = 0 }: AnchoredProps) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const place = (): void => {
      const children = host.current?.children;
      if (children === undefined) return;
      const spots = anchors.flatMap(({ side, at, normal }, i) => {
        const element = children[i] as HTMLElement | undefined;
        const spot = stage.project(side, at, normal);
        if (element !== undefined) element.hidden = spot === null;
        return element === undefined || spot === null ? [] : [{ ...spot, element, side }];
      });
      const lowest = new Map<string, number>();
      const step = apart * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
      for (const { x, y, faces, element, side } of apart === 0 ? spots : spots.sort((a, b) => a.y - b.y)) {
        const free = Math.max(y, (lowest.get(side) ?? -Infinity) + step);
        lowest.set(side, free);
        element.style.transform = `translate(${x.toFixed(1)}px, ${(apart === 0 ? y : free).toFixed(1)}px)`;
        element.classList.toggle('away', !faces);
      }
    };
    stage.drawn.add(place);
    stage.draw();
    return () => void stage.drawn.delete(place);
  }, [stage, anchors]);
  return (
    <div class="anchored" ref={host} aria-hidden="true">
      {anchors.map(({ key, shown, class: name, press, drag }) => (
        <span key={key} class={`anchor ${name}${press === undefined && drag === undefined ? '' : ' pressed'}`} onClick={press}>
          <span class="tag" onPointerDown={drag === undefined ? undefined : (event) => event.currentTarget.setPointerCapture(event.pointerId)} onPointerMove={drag === undefined ? undefined : (event) => event.buttons === 1 && drag(event.movementX, event.movementY)}>{shown}</span>
        </span>
      ))}
    </div>
  );
}
