import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/**
 * Every pair of triangles that go through each other, by asking all pairs whose boxes meet: for each edge of one, the
 * point where its line meets the other's plane, by Cramer's rule. Pairs with a corner in common are asked by the edges
 * that do not hold it. An oracle for small meshes.
 */
export function crossingPairs({ positions: p, triangles: t }: Mesh): [number, number][] {
  const count = t.length / 3;
  const low = new Float64Array(3 * count);
  const high = new Float64Array(3 * count);
  for (let f = 0; f < count; f++) {
    for (let k = 0; k < 3; k++) {
      const c = [0, 1, 2].map((i) => p[3 * t[3 * f + i] + k]);
      low[3 * f + k] = Math.min(...c);
      high[3 * f + k] = Math.max(...c);
    }
  }
  const order = Uint32Array.from({ length: count }, (_, f) => f).sort((f, g) => low[3 * f] - low[3 * g]);
  const found: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    const f = order[i];
    for (let j = i + 1; j < count && low[3 * order[j]] <= high[3 * f]; j++) {
      const g = order[j];
      if (low[3 * f + 1] > high[3 * g + 1] || low[3 * g + 1] > high[3 * f + 1] || low[3 * f + 2] > high[3 * g + 2] || low[3 * g + 2] > high[3 * f + 2]) continue;
      if (pierces(p, t, f, g) || pierces(p, t, g, f)) found.push([Math.min(f, g), Math.max(f, g)]);
    }
  }
  return found;
}

function pierces(p: Float64Array, t: Uint32Array, f: number, g: number): boolean {
  const corner = (i: number): number[] => [p[3 * i], p[3 * i + 1], p[3 * i + 2]];
  const minus = (a: number[], b: number[]): number[] => a.map((c, k) => c - b[k]);
  const det = (a: number[], b: number[], c: number[]): number =>
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  const other = [t[3 * g], t[3 * g + 1], t[3 * g + 2]];
  const [a, b, c] = other.map(corner);
  for (let k = 0; k < 3; k++) {
    const [i, j] = [t[3 * f + k], t[3 * f + ((k + 1) % 3)]];
    if (other.includes(i) || other.includes(j)) continue;
    // e + s (f − e) = a + u (b − a) + v (c − a)
    const [from, to] = [corner(i), corner(j)];
    const along = minus(from, to);
    const ab = minus(b, a);
    const ac = minus(c, a);
    const volume = det(ab, ac, along);
    if (Math.abs(volume) < 1e-14) continue;
    const right = minus(from, a);
    const u = det(right, ac, along) / volume;
    const v = det(ab, right, along) / volume;
    const s = det(ab, ac, right) / volume;
    const margin = 1e-9;
    if (u > margin && v > margin && u + v < 1 - margin && s > margin && s < 1 - margin) return true;
  }
  return false;
}
