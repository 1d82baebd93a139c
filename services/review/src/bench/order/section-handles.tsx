import type { Stage } from '../scene/stage.js';
import { Anchored } from './anchored.js';
import type { Anchor } from './anchored.js';
import type { BenchWork } from './bench-work.js';
import { moveSections, sectionCuts, sections } from './section-state.js';
import { mm } from './words.js';

/** On the top of each section a handle that draws it along the foot. */
export function SectionHandles({ work, stage }: { readonly work: BenchWork; readonly stage: Stage }) {
  const anchors = work.feet.flatMap(({ side }): Anchor[] => {
    const points = sectionCuts.value[side]?.curves[0]?.points;
    if (points === undefined) return [];
    const at = sections.value[side];
    const drag = (dx: number, dy: number): void => {
      // How a millimetre along the foot lies on the screen now.
      const [a, b] = [stage.sight.project(side, [at.x, 0, 0], null), stage.sight.project(side, [at.x + 10, 0, 0], null)];
      if (a === null || b === null) return;
      const way = [(b.x - a.x) / 10, (b.y - a.y) / 10];
      const square = way[0] ** 2 + way[1] ** 2;
      if (square > 0.01) moveSections({ x: (dx * way[0] + dy * way[1]) / square });
    };
    return [{ key: side, side, at: highest(points), normal: null, class: 'section-handle', shown: `${mm(at.x, 0)} mm`, drag }];
  });
  return <Anchored stage={stage} anchors={anchors} />;
}

function highest(points: Float32Array): readonly [number, number, number] {
  let top = 0;
  for (let i = 3; i < points.length; i += 3) if (points[i + 2] > points[top + 2]) top = i;
  return [points[top], points[top + 1], points[top + 2]];
}
