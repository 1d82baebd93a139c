import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Side } from '@cast-to-last/foot/side';
import { openCylinder } from './meshes.ts';

const DEG = 180 / Math.PI;

/** A pipe of oval section, 90 by 66 mm, open above and below, that leans: forward, and to the inner side, degrees. */
export function leaningPipe(forward: number, inward: number, side: Side, height = 180, segments = 90): Mesh {
  const { positions, triangles } = openCylinder(1, height, segments, 90);
  const [a, b] = [Math.tan(forward / DEG), (side === 'right' ? 1 : -1) * Math.tan(inward / DEG)];
  const leaning = positions.slice();
  for (let i = 0; i < leaning.length; i += 3) {
    leaning[i] = 70 + 45 * leaning[i] + a * leaning[i + 2];
    leaning[i + 1] = 33 * leaning[i + 1] + b * leaning[i + 2];
  }
  return { positions: leaning, triangles };
}
