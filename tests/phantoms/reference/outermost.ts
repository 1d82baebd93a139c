import type { Field } from '../surface/implicit.js';

type Triple = [number, number, number];

/** y of the surface on the line through (x, z) along Y, near `y`, by Newton steps; NaN where they do not settle. */
function sideAt(field: Field, x: number, y: number, z: number): number {
  let at = y;
  for (let step = 0; step < 30; step++) {
    const value = field(x, at, z);
    if (Math.abs(value) < 1e-9) return at;
    const slope = (field(x, at + 1e-4, z) - value) / 1e-4;
    if (Math.abs(slope) < 0.05) return NaN;
    at -= Math.max(-2, Math.min(2, value / slope));
  }
  return Math.abs(field(x, at, z)) < 1e-6 ? at : NaN;
}

/**
 * The point of greatest sign·y on the exact surface near `start` with from ≤ x ≤ to: a compass search in (x, z) whose step
 * is halved from 2 mm to 1e-5 mm where no neighbour lies further out.
 */
export function outermost(field: Field, start: Triple, sign: 1 | -1, from: number, to: number): Triple {
  let [x, y, z] = start;
  y = sideAt(field, x, y, z);
  if (Number.isNaN(y)) return start;
  for (let step = 2; step > 1e-5; step /= 2) {
    for (let moved = true; moved; ) {
      moved = false;
      for (const [dx, dz] of [[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, -1], [1, -1], [-1, 1]]) {
        const tx = Math.min(to, Math.max(from, x + step * dx));
        const tz = z + step * dz;
        const ty = sideAt(field, tx, y, tz);
        if (!(sign * ty > sign * y)) continue;
        [x, y, z] = [tx, ty, tz];
        moved = true;
      }
    }
  }
  return [x, y, z];
}
