/** Of three numbers each. Not for hot loops: arrays are made. */

export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const cross = (a: ArrayLike<number>, b: ArrayLike<number>): number[] => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** In the same direction, of length 1. */
export function unit(v: readonly number[]): number[] {
  const length = Math.hypot(v[0], v[1], v[2]);
  return v.map((c) => c / length);
}

export const distance = (a: ArrayLike<number>, b: ArrayLike<number>): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
