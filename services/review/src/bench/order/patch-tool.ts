import { signal } from '@preact/signals';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { Tools } from '../scene/handle.js';
import type { Side } from '../../server/results.js';
import type { BenchWork } from './bench-work.js';

export type Patch = Decisions['patches'][number];

/** What a press on the surface does beside turning. */
export interface PatchTool {
  readonly decision: Patch['decision'];
  /** A circle a press, or circles along a stroke. */
  readonly how: 'circle' | 'brush';
  readonly radiusMm: number;
}

export const patchTool = signal<PatchTool | null>(null);

/** Of a stroke: how far its circles lie apart, as a share of their radius. */
const SPACING = 0.7;

/** The tool's hands: shows where a patch would lie, and adds what was pressed or drawn to the decisions of that foot. */
export function patchTools(work: BenchWork): Tools {
  let looking = false;
  let stroke: { readonly side: Side; readonly patches: Patch[] } | null = null;
  const met = async (side: Side, x: number, y: number): Promise<readonly [number, number, number] | null> => {
    const ray = work.stage.value?.sight.ray(side, x, y);
    return ray == null ? null : ((await work.thread.ask('pick', { body: `${side}:cleaned`, ...ray }))?.point ?? null);
  };
  const cursor = (side: Side, at: readonly number[] | null): void => {
    for (const [name, stand] of work.stage.value?.stands ?? []) stand.cursor(at ?? [], name === side && at !== null ? (patchTool.value?.radiusMm ?? 0) : 0);
    work.stage.value?.draw();
  };
  const patchAt = ([x, y, z]: readonly [number, number, number], { decision, radiusMm }: PatchTool): Patch => ({ centre: [round(x), round(y), round(z)], radiusMm, decision });
  const add = (side: Side, patches: readonly Patch[]): void => {
    const foot = work.foot(side);
    if (foot !== undefined && patches.length > 0) foot.decide({ ...foot.decisions.value, patches: [...foot.decisions.value.patches, ...patches] });
  };
  return {
    press: (side, x, y) => {
      const tool = patchTool.value;
      if (tool === null) return;
      void met(side, x, y).then((at) => at !== null && add(side, [patchAt(at, tool)]), () => undefined);
    },
    hover: (side, x, y) => {
      if (patchTool.value === null || looking) return;
      looking = true;
      met(side, x, y).then((at) => cursor(side, at), () => undefined).finally(() => void (looking = false));
    },
    draws: () => patchTool.value?.how === 'brush',
    stroke: (side, x, y, phase) => {
      const tool = patchTool.value;
      if (tool === null) return;
      if (phase === 'begin') stroke = { side, patches: [] };
      const now = stroke;
      if (now === null || now.side !== side) return;
      void met(side, x, y).then((at) => {
        if (at !== null) {
          cursor(side, at);
          const last = now.patches.at(-1)?.centre;
          if (last === undefined || Math.hypot(at[0] - last[0], at[1] - last[1], at[2] - last[2]) >= SPACING * tool.radiusMm) now.patches.push(patchAt(at, tool));
        }
        if (phase === 'end') add(side, now.patches);
      }, () => undefined);
      if (phase === 'end') stroke = null;
    },
  };
}

/** To a hundredth of a millimetre: more means nothing, and equal decisions stay equal. */
const round = (value: number): number => Math.round(100 * value) / 100;
