import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Side } from '../../server/results.js';
import type { Stage } from '../scene/stage.js';
import type { WordBox } from '../scene/word-places.js';

export interface Anchor {
  readonly key: string;
  readonly side: Side;
  readonly at: readonly [number, number, number];
  /** Whether it is behind something, where that is known; then its normal says nothing. */
  readonly hidden?: () => boolean | null;
  /** Of the surface there; what looks away from the viewer is drawn weaker. Null: it always faces. */
  readonly normal: readonly number[] | null;
  readonly shown: ComponentChildren;
  readonly class: string;
  /** A line of the foot that it speaks of: hidden where the line is seen too much from its end to be read. */
  readonly line?: readonly [readonly [number, number, number], readonly [number, number, number]];
  readonly press?: () => void;
  /** By how many pixels the pointer drew it. */
  readonly drag?: (dx: number, dy: number) => void;
}

export interface AnchoredProps {
  readonly stage: Stage;
  readonly anchors: readonly Anchor[];
  /** They give way to each other and to other words over the scene; a thin line leads back to the place of one that did. */
  readonly words?: boolean;
}

/** How much of a line must be seen for its word to stand. */
const LEAST_SEEN = 0.3;

/** Words and pins that lie over the scene and go with it. For the eye and the pointer: what they say stands in a list as well. */
export function Anchored({ stage, anchors, words = false }: AnchoredProps) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const tags = new Map<HTMLElement, WordBox>();
    const place = (): void => {
      const children = host.current?.children;
      if (children === undefined) return;
      const spots = anchors.flatMap(({ side, at, normal, line, hidden }, i) => {
        const element = children[i] as HTMLElement | undefined;
        const spot = line === undefined || stage.sight.shareSeen(side, line) >= LEAST_SEEN ? stage.sight.project(side, at, normal) : null;
        if (element !== undefined) element.hidden = spot === null;
        return element === undefined || spot === null ? [] : [{ ...spot, element, away: hidden?.() ?? !spot.faces }];
      });
      if (words) for (const { element } of spots) if (!tags.has(element)) tags.set(element, boxOf(element));
      for (const { x, y, away, element } of words ? spots.sort((a, b) => a.y - b.y) : spots) {
        element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
        element.classList.toggle('away', away);
        const tag = tags.get(element);
        if (tag === undefined) continue;
        const [dx, dy] = stage.words.place({ left: x + tag.left, right: x + tag.right, top: y + tag.top, bottom: y + tag.bottom });
        element.style.setProperty('--dx', `${dx.toFixed(1)}px`);
        element.style.setProperty('--dy', `${dy.toFixed(1)}px`);
        const far = Math.hypot(dx, dy);
        element.style.setProperty('--lead', `${far < 12 ? 0 : far.toFixed(1)}px`);
        element.style.setProperty('--lead-turn', `${Math.atan2(dy, dx).toFixed(3)}rad`);
      }
    };
    stage.drawn.add(place);
    stage.draw();
    return () => void stage.drawn.delete(place);
  }, [stage, anchors]);
  /** What a finger covers may belong to several: the one whose place lies nearest is meant. */
  const pressNearest = ({ clientX, clientY }: MouseEvent): void => {
    const met = anchors.flatMap(({ press }, i) => {
      const element = host.current?.children[i] as HTMLElement | undefined;
      if (press === undefined || element === undefined || element.hidden || (element.classList.contains('away') && !element.classList.contains('chosen'))) return [];
      const { x, y, width, height } = (element.firstElementChild as HTMLElement).getBoundingClientRect();
      return [{ press, far: Math.hypot(clientX - x - width / 2, clientY - y - height / 2) }];
    });
    met.sort((a, b) => a.far - b.far)[0]?.press();
  };
  return (
    <div class="anchored" ref={host} aria-hidden="true" onClick={pressNearest}>
      {anchors.map(({ key, shown, class: name, press, drag }) => (
        <span key={key} class={`anchor ${name}${press === undefined && drag === undefined ? '' : ' pressed'}`}>
          <span class="tag" onPointerDown={drag === undefined ? undefined : (event) => event.currentTarget.setPointerCapture(event.pointerId)} onPointerMove={drag === undefined ? undefined : (event) => event.buttons === 1 && drag(event.movementX, event.movementY)}>{shown}</span>
        </span>
      ))}
    </div>
  );
}

/** Where the tag lies to its place when nothing moves it. */
function boxOf(element: HTMLElement): WordBox {
  element.style.setProperty('--dx', '0px');
  element.style.setProperty('--dy', '0px');
  const at = element.getBoundingClientRect();
  const tag = (element.firstElementChild as HTMLElement).getBoundingClientRect();
  return { left: tag.left - at.left, right: tag.right - at.left, top: tag.top - at.top, bottom: tag.bottom - at.top };
}
