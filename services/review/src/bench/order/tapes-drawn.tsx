import { pairsOf, segments } from '../scene/lines.js';
import type { Stage } from '../scene/stage.js';
import { Anchored } from './anchored.js';
import type { Anchor } from './anchored.js';
import type { BenchWork } from './bench-work.js';
import type { Foot } from './foot.js';
import { sceneColours } from './scene-colours.js';
import { useLines } from './use-lines.js';
import { mm } from './words.js';

/** The tapes of the girths as the pipeline laid them, each with its value and its doubt. */
export function TapesDrawn({ work, stage, foot }: { readonly work: BenchWork; readonly stage: Stage; readonly foot: Foot }) {
  const on = work.display.value.body === 'last' ? 'last' : 'cast';
  const stations = (foot.sheet.value?.drawn.stations ?? []).filter((station) => station.on === on);
  const measured = foot.report.value?.measurements ?? [];
  useLines(stage, foot.side, () => {
    const colours = sceneColours();
    return stations.filter(({ line }) => line.length >= 9).map(({ line }) => segments(pairsOf(line, true), { colour: colours.tape, width: 2.5 }));
  }, [foot.sheet.value, on, work.bodies.value[foot.side]]);
  const anchors = stations.flatMap(({ id, line }): Anchor[] => {
    const value = measured.find((m) => m.id === id && m.on === on);
    if (value === undefined || !('value' in value)) return [];
    return [{ key: `${foot.side}:${id}`, side: foot.side, at: highest(line), normal: null, class: `tape-word ${foot.side}`, shown: <>{value.label} <strong>{mm(value.value)}</strong> ± {mm(value.uncertainty)}</> }];
  });
  return <Anchored stage={stage} anchors={anchors} words />;
}

function highest(line: readonly number[]): readonly [number, number, number] {
  let top = 0;
  for (let i = 3; i < line.length; i += 3) if (line[i + 2] > line[top + 2]) top = i;
  return [line[top], line[top + 1], line[top + 2]];
}
