import { measurePlan } from '../scene/measure-plan.js';
import { segments } from '../scene/lines.js';
import type { Stage } from '../scene/stage.js';
import { Anchored } from './anchored.js';
import type { BenchWork } from './bench-work.js';
import type { Foot } from './foot.js';
import { sceneColours } from './scene-colours.js';
import { useLines } from './use-lines.js';
import { mm } from './words.js';

/** Lengths, widths and heights between the places that the pipeline took them at, each with its value and its doubt. */
export function LengthsDrawn({ work, stage, foot }: { readonly work: BenchWork; readonly stage: Stage; readonly foot: Foot }) {
  const on = work.display.value.body === 'last' ? 'last' : 'cast';
  const report = foot.report.value;
  const { faint, strong, places, words } = measurePlan((report?.measurements ?? []).filter((m) => m.on === on), foot.side);
  useLines(stage, foot.side, () => {
    if (strong.length === 0) return [];
    const colour = sceneColours().length;
    // Lines through the foot are seen as well; where they come out of it a cross shows.
    const crosses = places.flatMap(([x, y, z]) => [x - 3, y, z, x + 3, y, z, x, y - 3, z, x, y + 3, z, x, y, z - 3, x, y, z + 3]);
    return [segments(faint, { colour, width: 1, opacity: 0.55 }), segments(strong, { colour, width: 2.5, through: true }), segments(crosses, { colour, width: 2, through: true })];
  }, [report, on, work.bodies.value[foot.side]]);
  if (report !== null && words.length === 0) return <p class="scene-note" role="status">This result was made by an earlier version and does not say where its lengths lie.</p>;
  return (
    <Anchored stage={stage} words anchors={words.map(({ measured: { id, label, value, uncertainty }, at, line }) => (
      { key: `${foot.side}:${id}`, side: foot.side, at, line, normal: null, class: 'length-word', shown: <>{label} <strong>{mm(value)}</strong> ± {mm(uncertainty)}</> }
    ))} />
  );
}
