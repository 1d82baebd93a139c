import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

export interface FootShapeOptions {
  /** mm */
  readonly length?: number;
  /** Breadth at the ball over length. */
  readonly breadth?: number;
  /** Greatest height over length; the rear end rises to it as the stump of an ankle. */
  readonly height?: number;
  /** Everything above this z (mm) is pressed flat. */
  readonly flatTop?: number;
  /** Cross-sections, and points round each. */
  readonly rings?: number;
  readonly around?: number;
}

/**
 * A closed shape with the proportions of a right foot, for tests that need something foot-sized and foot-shaped but no
 * anatomy: toes at +x, z up, a flat sole at z = 0.
 */
export function footShape({ length = 260, breadth = 0.38, height = 0.35, flatTop = Infinity, rings = 70, around = 48 }: FootShapeOptions = {}): Mesh {
  const at = (t: number, table: readonly (readonly [number, number])[]): number => {
    const k = Math.max(1, table.findIndex(([x]) => x >= t));
    const [[x0, y0], [x1, y1]] = [table[k - 1], table[k]];
    const s = (t - x0) / (x1 - x0);
    return y0 + (y1 - y0) * s * s * (3 - 2 * s);
  };
  const halfBreadth = (t: number): number => 0.5 * breadth * length * at(t, [[0, 0.2], [0.12, 0.68], [0.4, 0.72], [0.7, 1], [0.92, 0.7], [1, 0.15]]);
  const top = (t: number): number => height * length * at(t, [[0, 0.5], [0.1, 1], [0.28, 1], [0.5, 0.65], [0.75, 0.38], [0.95, 0.22], [1, 0.1]]);
  const positions: number[] = [0, 0, 0.15 * height * length];
  for (let i = 0; i < rings; i++) {
    const t = 0.004 + (0.992 * i) / (rings - 1);
    const middle = 0.03 * length * Math.sin(Math.PI * t);
    for (let j = 0; j < around; j++) {
      const angle = (2 * Math.PI * j) / around;
      const z = 0.5 * top(t) * (1 + Math.sin(angle));
      positions.push(length * t, middle + halfBreadth(t) * Math.cos(angle), Math.min(Math.max(z, 0.08 * top(t)) - 0.08 * top(t), flatTop));
    }
  }
  positions.push(length, 0, 0.02 * length);
  const triangles: number[] = [];
  const vertex = (i: number, j: number): number => 1 + i * around + (j % around);
  const last = positions.length / 3 - 1;
  for (let j = 0; j < around; j++) {
    triangles.push(0, vertex(0, j + 1), vertex(0, j), last, vertex(rings - 1, j), vertex(rings - 1, j + 1));
    for (let i = 0; i + 1 < rings; i++) {
      triangles.push(vertex(i, j), vertex(i, j + 1), vertex(i + 1, j + 1), vertex(i, j), vertex(i + 1, j + 1), vertex(i + 1, j));
    }
  }
  return { positions: new Float64Array(positions), triangles: new Uint32Array(triangles) };
}
