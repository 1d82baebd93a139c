import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { ReportedMark } from '@cast-to-last/pipeline/report/report';

/** How near a decision's place must lie to a mark of the other foot to mean it, mm: as in the pipeline. */
const REACH = 6;

export interface Mirrored {
  readonly decisions: Decisions;
  /** Marks of the other foot that a decision means. */
  readonly met: number;
  readonly patches: number;
}

/** The decisions on one foot as the other has them: places mirrored, and moved along by the ratio of the lengths. What the other decided itself stays. */
export function mirrorDecisions(from: Decisions, own: Decisions, marks: readonly ReportedMark[], lengthRatio: number): Mirrored {
  const mirror = ([x, y, z]: readonly [number, number, number]): [number, number, number] => [x * lengthRatio, y === 0 ? 0 : -y, z];
  const decided = new Set(own.marks.map(({ id }) => id));
  const words = new Map<string, Decisions['marks'][number]>();
  for (const { centre, decision, note } of from.marks) {
    if (centre === undefined) continue;
    const at = mirror(centre);
    const near = marks
      .map((mark) => ({ mark, far: Math.hypot(mark.centre[0] - at[0], mark.centre[1] - at[1], mark.centre[2] - at[2]) }))
      .filter(({ mark, far }) => far <= REACH && !decided.has(mark.id))
      .sort((a, b) => a.far - b.far)[0];
    if (near !== undefined) words.set(near.mark.id, { id: near.mark.id, centre: [...near.mark.centre], decision, ...(note !== undefined && { note }) });
  }
  const patches = from.patches.map((patch) => ({ ...patch, centre: mirror(patch.centre) }));
  return { decisions: { marks: [...own.marks, ...words.values()], patches: [...own.patches, ...patches] }, met: words.size, patches: patches.length };
}
