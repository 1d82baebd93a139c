import { useEffect } from 'preact/hooks';
import type { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js';
import { dispose } from '../scene/lines.js';
import type { Stage } from '../scene/stage.js';
import type { Side } from '../../server/results.js';

/** Draws lines on a foot as long as the component stands; anew where one of `on` changes. */
export function useLines(stage: Stage, side: Side, make: () => readonly LineSegments2[], on: readonly unknown[]): void {
  useEffect(() => {
    const stand = stage.stands.get(side);
    if (stand === undefined) return undefined;
    const lines = make();
    if (lines.length === 0) return undefined;
    stand.drawn.add(...lines);
    stage.draw();
    return () => {
      stand.drawn.remove(...lines);
      lines.forEach(dispose);
      stage.draw();
    };
  }, [stage, side, ...on]);
}
