/** What noise leaves in a place that steers nothing, as a multiple of what it leaves where the surface was steered. */
const UNSTEERED = 1.8;

/** The annulus is judged by the means of so many sectors, in which noise averages out. */
const SECTORS = 8;

/**
 * Root mean square by which the sectors of an annulus stand off beyond what noise explains, mm.
 *
 * @param flat u, v of each place
 * @param heights of each place over a fair surface that these places did not steer, mm
 * @param gap distance of each place from the mark, mm; the annulus is low < gap ≤ high
 * @param middle u, v of the mark
 * @param ringError what that surface misses where it was steered, mm
 */
export function unrest(flat: Float64Array, heights: Float64Array, gap: Float64Array, low: number, high: number, middle: readonly [number, number], ringError: number): number {
  const sums = new Float64Array(SECTORS);
  const counts = new Uint32Array(SECTORS);
  for (let i = 0; i < gap.length; i++) {
    if (!(gap[i] > low && gap[i] <= high)) continue;
    const turn = Math.atan2(flat[2 * i + 1] - middle[1], flat[2 * i] - middle[0]) / (2 * Math.PI) + 0.5;
    const sector = Math.min(SECTORS - 1, Math.floor(SECTORS * turn));
    sums[sector] += heights[i];
    counts[sector]++;
  }
  let squares = 0;
  let noise = 0;
  let filled = 0;
  for (let s = 0; s < SECTORS; s++) {
    if (counts[s] === 0) continue;
    filled++;
    squares += (sums[s] / counts[s]) ** 2;
    noise += (UNSTEERED * ringError) ** 2 / counts[s];
  }
  return filled === 0 ? Infinity : Math.sqrt(Math.max(0, squares - noise) / filled);
}
