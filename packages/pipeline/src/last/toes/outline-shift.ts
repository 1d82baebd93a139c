import { smoothStep } from '../ease/smooth-step.js';
import type { Outline } from './fair-outline.js';
import { OUTLINE, outlinePoints, radiusAt } from './fair-outline.js';

export const SHIFT = {
  /** How deep inside the outline the shift ends, mm, and up to where it is whole. */
  depth: 26,
  whole: 3,
  /** Over about what length the shift is that of several places of the outline, mm. */
  blur: 3,
} as const;

/**
 * How far each place inside a fair outline lies, seen from above, beyond where it came from when the hull of the toes was
 * carried out to that outline: whole beside the outline, in its normal direction, and ending smoothly inside.
 */
export class OutlineShift {
  /** x, y of the places of the outline, their shift, and the length of outline that each stands for. */
  private readonly places: Float64Array;
  private readonly shifts: Float64Array;
  private readonly lengths: Float64Array;
  private readonly reach: Float64Array;
  private readonly normals: Float64Array;

  /**
   * @param hull x, y, z of points whose hull is carried out
   * @param held where given, no shift inward is greater than these points leave room for
   */
  constructor(outline: Outline, hull: Float64Array, held: Float64Array | null = null) {
    const { from, step, reach } = outline;
    const count = reach.length;
    const normals = Array.from({ length: count }, (_, k) => [Math.cos(from + k * step), Math.sin(from + k * step)]);
    const ends = farthest(hull, normals);
    const room = held === null ? null : farthest(held, normals).map((r, k) => Math.max(0, reach[k] - r));
    this.reach = reach;
    this.normals = Float64Array.from(normals.flat());
    this.places = outlinePoints(outline);
    this.shifts = new Float64Array(2 * count);
    this.lengths = new Float64Array(count);
    normals.forEach(([c, s], k) => {
      const x = this.places[2 * k];
      const y = this.places[2 * k + 1];
      let gap = -Infinity;
      for (let j = 0; j < count; j++) {
        const facing = c * normals[j][0] + s * normals[j][1];
        if (facing > FACING) gap = Math.max(gap, (x * normals[j][0] + y * normals[j][1] - ends[j]) / facing);
      }
      if (room !== null) gap = Math.max(gap, -room[k]);
      this.shifts[2 * k] = gap * c;
      this.shifts[2 * k + 1] = gap * s;
      const inner = Math.min(Math.max(k, 1), count - 2);
      this.lengths[k] = Math.max(radiusAt(reach, inner), 1) * OUTLINE.step;
    });
  }

  /** The shift of a place, written into `out`: x, y. */
  at(x: number, y: number, out: Float64Array): void {
    const { places, shifts, lengths, reach, normals } = this;
    let depth = Infinity;
    for (let k = 0; k < reach.length; k++) depth = Math.min(depth, reach[k] - normals[2 * k] * x - normals[2 * k + 1] * y);
    out[0] = out[1] = 0;
    if (depth >= SHIFT.depth) return;
    let sum = 0;
    let dx = 0;
    let dy = 0;
    for (let k = 0; k < lengths.length; k++) {
      const u = x - places[2 * k];
      const v = y - places[2 * k + 1];
      const near = u * u + v * v + SHIFT.blur * SHIFT.blur;
      const w = lengths[k] / (near * near);
      sum += w;
      dx += w * shifts[2 * k];
      dy += w * shifts[2 * k + 1];
    }
    const share = (1 - smoothStep((depth - SHIFT.whole) / (SHIFT.depth - SHIFT.whole))) / sum;
    out[0] = share * dx;
    out[1] = share * dy;
  }
}

/** Edges of the hull that face away more than this from the way out do not end it. */
const FACING = 0.05;

/** How far points reach in each direction. */
const farthest = (points: Float64Array, directions: readonly (readonly number[])[]): number[] => directions.map((direction) => farthestAlong(points, direction[0], direction[1]));

function farthestAlong(points: Float64Array, c: number, s: number): number {
  let most = -Infinity;
  for (let i = 0; i < points.length; i += 3) {
    const along = c * points[i] + s * points[i + 1];
    if (along > most) most = along;
  }
  return most;
}
