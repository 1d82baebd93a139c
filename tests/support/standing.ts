import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import { surfaceAtVertices } from '@cast-to-last/foot/position/standing-cast';
import type { Side } from '@cast-to-last/foot/side';

const ORIGIN = [0, 0, 0] as const;

/** Landmarks of a foot that is none: 260 mm long, the ball at 180 to 190 mm. */
export function landmarksFor(side: Side, changes: Partial<Landmarks> = {}): Landmarks {
  const m = side === 'right' ? 1 : -1;
  return {
    footLength: 260, pternion: ORIGIN, toeTip: [260, 0, 10], heelCentre: [42, 0, 0], ballCentre: [180, 0, 0], medialBall: [190, 45 * m, 15],
    lateralBall: [170, -45 * m, 15], instep: null, waist: null, crook: null, heelCorner: ORIGIN, ...changes,
  };
}

/** A body of any shape as position is read from it; whole up to its highest point unless said otherwise. */
export function standing(mesh: Mesh, changes: Partial<StandingCast> = {}): StandingCast {
  const side = changes.side ?? 'right';
  let top = -Infinity;
  for (let i = 2; i < mesh.positions.length; i += 3) top = Math.max(top, mesh.positions[i]);
  return {
    mesh, twin: twins(mesh), side, landmarks: landmarksFor(side), ...surfaceAtVertices(mesh), unsure: new Uint8Array(mesh.positions.length / 3),
    wholeTo: top, ...changes,
  };
}

/** A sheet that faces down over from ≤ x ≤ to, |y| ≤ half: z = height(x, y), a vertex about every 2 mm. */
export function soleSheet(height: (x: number, y: number) => number, [from, to] = [0, 260], half = 40): Mesh {
  const columns = Math.round((to - from) / 2);
  const rows = Math.round(half);
  const positions = new Float64Array(3 * (columns + 1) * (rows + 1));
  for (let i = 0; i <= columns; i++) {
    for (let j = 0; j <= rows; j++) {
      const [x, y] = [from + (i * (to - from)) / columns, -half + (2 * half * j) / rows];
      positions.set([x, y, height(x, y)], 3 * (i * (rows + 1) + j));
    }
  }
  const triangles: number[] = [];
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < rows; j++) {
      const [a, b, c, d] = [i * (rows + 1) + j, (i + 1) * (rows + 1) + j, (i + 1) * (rows + 1) + j + 1, i * (rows + 1) + j + 1];
      triangles.push(a, c, b, a, d, c);
    }
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}

export interface Plates {
  /** Degrees: front plate rising to the toes, and its inner edge rising. */
  readonly bend: number;
  readonly twist?: number;
  /** x of the hinge at y = 0, mm. */
  readonly hinge: number;
  readonly side?: Side;
  /** How far the sole stands off its plates between them, as the arch does: mm at a place. */
  readonly off?: (x: number, y: number) => number;
}

/** The sole of a foot that lies on two plates, the rear one z = 0, joined along the line in which they meet. */
export function plateSole({ bend, twist = 0, hinge, side = 'right', off = () => 0 }: Plates): Mesh {
  const a = Math.tan((bend * Math.PI) / 180);
  const b = (side === 'right' ? 1 : -1) * Math.tan((twist * Math.PI) / 180);
  return soleSheet((x, y) => Math.max(0, a * (x - hinge) + b * y) + off(x, y));
}
