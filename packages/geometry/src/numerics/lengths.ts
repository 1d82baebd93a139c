/** Length of (x, y). Faster by far than Math.hypot, which guards against overflow that no length in millimetres comes near. */
export const length2 = (x: number, y: number): number => Math.sqrt(x * x + y * y);

/** Length of (x, y, z), likewise. */
export const length3 = (x: number, y: number, z: number): number => Math.sqrt(x * x + y * y + z * z);

/** Square of the distance of two points, `a` and `b`, of x, y, z one after another. */
export function squaredDistance(p: Float64Array, a: number, b: number): number {
  const x = p[3 * a] - p[3 * b];
  const y = p[3 * a + 1] - p[3 * b + 1];
  const z = p[3 * a + 2] - p[3 * b + 2];
  return x * x + y * y + z * z;
}
