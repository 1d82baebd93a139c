import type { Surroundings } from './fair-surface.js';

/** Places of a piece of surface that was laid flat. */
export interface RegionOnFlat {
  readonly around: Pick<Surroundings, 'flat'>;
  readonly region: readonly number[];
}

/** Mean u, v of the region's places. */
export function middleOf({ around: { flat }, region }: RegionOnFlat): [number, number] {
  let u = 0;
  let v = 0;
  for (const i of region) {
    u += flat[2 * i] / region.length;
    v += flat[2 * i + 1] / region.length;
  }
  return [u, v];
}

/** Distance of each place from the region on the flat, as far as `reach` (beyond it: Infinity), mm. */
export function gapTo({ flat }: Pick<Surroundings, 'flat'>, region: readonly number[], reach: number): Float64Array {
  const gap = new Float64Array(flat.length / 2).fill(Infinity);
  for (const r of region) bringNearer(gap, flat, flat[2 * r], flat[2 * r + 1]);
  for (let i = 0; i < gap.length; i++) gap[i] = gap[i] > reach * reach ? Infinity : Math.sqrt(gap[i]);
  return gap;
}

/** Lowers each place's squared distance to that from (u, v). A function of its own, so that the engine compiles the loop once. */
function bringNearer(squared: Float64Array, flat: Float64Array, u: number, v: number): void {
  for (let i = 0; i < squared.length; i++) {
    const du = flat[2 * i] - u;
    const dv = flat[2 * i + 1] - v;
    const d = du * du + dv * dv;
    if (d < squared[i]) squared[i] = d;
  }
}
