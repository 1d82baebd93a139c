import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { landmarksFor } from './standing.ts';

export interface Slab {
  readonly side?: Side;
  /** Radius of the edge between sole and side, mm. */
  readonly edge?: number;
  /** Slope (degrees) of what lies ahead of `crease`, rising. */
  readonly bend?: number;
  readonly crease?: number;
  /** Upward at a place of the sole, mm; fades out at the top. */
  readonly lift?: (x: number, y: number) => number;
  /** Distance of the vertices on the edge and on the flat, mm. */
  readonly step?: number;
}

/** Length, half breadth and height, mm. */
export const SLAB = { length: 260, half: 40, height: 50 } as const;

/**
 * A slab with an open top in place of a foot: in plan a rectangle with half circles at both ends, sole level, sides upright,
 * the edge between them a quarter of a circle; where asked for bent up at the ball. All of it is known in closed form.
 */
export function edgedSlab({ side = 'right', edge = 12, bend = 0, crease = 185, lift = () => 0, step = 2 }: Slab = {}): LastBody {
  const { length, half, height } = SLAB;
  const offsets: number[] = [];
  for (let r = 1; r < half - edge - 0.5 * step; r += step) offsets.push(r);
  const rings: [number, number][] = offsets.map((r) => [r, 0]);
  const arc = Math.ceil((edge * Math.PI) / 2 / step);
  for (let k = 0; k <= arc; k++) {
    const angle = (k * Math.PI) / 2 / arc;
    rings.push([half - edge + edge * Math.sin(angle), edge * (1 - Math.cos(angle))]);
  }
  for (let z = edge + step; z <= height; z += step) rings.push([half, z]);
  const straight = Math.round((length - 2 * half) / step);
  const turn = Math.round((half * Math.PI) / step);
  const around = 2 * (straight + turn);
  const positions: number[] = [];
  const slope = Math.tan((bend * Math.PI) / 180);
  const add = (x: number, y: number, z: number): number => {
    const up = lift(x, y) * (1 - z / height);
    positions.push(x, y, z + up + slope * Math.max(0, x - crease));
    return positions.length / 3 - 1;
  };
  const place = (r: number, k: number): [number, number] => {
    const [front, rear] = [length - half, half];
    // Counter-clockwise seen from above: along −y to the front, round it, back along +y, round the heel.
    if (k < straight) return [rear + ((front - rear) * k) / straight, -r];
    if (k < straight + turn) {
      const a = -Math.PI / 2 + (Math.PI * (k - straight)) / turn;
      return [front + r * Math.cos(a), r * Math.sin(a)];
    }
    if (k < 2 * straight + turn) return [front - ((front - rear) * (k - straight - turn)) / straight, r];
    const a = Math.PI / 2 + (Math.PI * (k - 2 * straight - turn)) / turn;
    return [rear + r * Math.cos(a), r * Math.sin(a)];
  };
  for (const [r, z] of rings) for (let k = 0; k < around; k++) add(...place(r, k), z);
  const triangles: number[] = [];
  const at = (ring: number, k: number): number => ring * around + (k % around);
  for (let ring = 0; ring + 1 < rings.length; ring++) {
    for (let k = 0; k < around; k++) triangles.push(at(ring, k), at(ring, k + 1), at(ring + 1, k + 1), at(ring, k), at(ring + 1, k + 1), at(ring + 1, k));
  }
  // Within the innermost ring: a strip between its straight sides, a fan at either end.
  for (let k = 0; k < straight; k++) {
    const [a, b, c, d] = [at(0, k), at(0, k + 1), at(0, 2 * straight + turn - k - 1), at(0, 2 * straight + turn - k)];
    triangles.push(a, c, b, a, d, c);
  }
  for (const [first, centre] of [[straight, length - half], [2 * straight + turn, half]]) {
    const middle = add(centre, 0, 0);
    for (let k = first; k < first + turn; k++) triangles.push(at(0, k), middle, at(0, k + 1));
    triangles.push(at(0, first + turn), middle, at(0, first));
  }
  const mesh = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
  const landmarks: Landmarks = landmarksFor(side, { toeTip: [length, 0, 20 + slope * (length - crease)], pternion: [0, 0, 20] });
  return { mesh, opening: boundaryLoops(mesh)[0], filled: new Uint8Array(mesh.positions.length / 3), landmarks, side };
}
