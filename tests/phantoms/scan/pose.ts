import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Random } from '../random.js';

/** Any rotation, evenly (a random unit quaternion), and a shift of up to half a metre. */
export function anyPose(random: Random): Transform {
  const q = [0, 1, 2, 3].map(() => random.normal(0, 1));
  const l = Math.hypot(q[0], q[1], q[2], q[3]);
  const [w, x, y, z] = q.map((c) => c / l);
  const shift = [0, 1, 2].map(() => random.between(-500, 500));
  return new Float64Array([
    1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y), shift[0],
    2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x), shift[1],
    2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y), shift[2],
    0, 0, 0, 1,
  ]);
}
