/** Length of (x, y). Faster by far than Math.hypot, which guards against overflow that no length in millimetres comes near. */
export const length2 = (x: number, y: number): number => Math.sqrt(x * x + y * y);

/** Length of (x, y, z), likewise. */
export const length3 = (x: number, y: number, z: number): number => Math.sqrt(x * x + y * y + z * z);
