import { ExponentialMap } from '@cast-to-last/geometry/distance/exponential-map';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { Random } from '../random.js';

/** A surface with dents and bumps to learn from. */
export interface TaughtSurface {
  readonly positions: Float64Array;
  /** Displacement of each vertex along its normal, mm. */
  readonly heights: Float32Array;
  /** The vertex in the middle of each mark. */
  readonly middles: readonly number[];
}

/**
 * Presses dents into the surface and lays bumps on it. Their shapes are drawn independently of `marks/profiles.ts`, from wider
 * families in which shapes like those are rare, with outlines that are no ellipses: what is learnt shall be marks, not the
 * marks of the casts that the program is measured on. Distances are those along the surface.
 */
export function plantHeights(surface: InspectionSurface, positions: Float64Array, count: number, random: Random): TaughtSurface {
  const mesh = { positions, triangles: surface.mesh.triangles };
  const normals = vertexNormals(mesh);
  const map = new ExponentialMap(mesh, surface.neighbours, normals);
  const heights = new Float32Array(surface.areas.length);
  const middles: number[] = [];
  for (let k = 0; k < count; k++) {
    const middle = random.whole(0, heights.length - 1);
    const width = random.between(8, 31);
    const long = (width / 2) * (random.chance(0.5) ? 1 : random.between(1, 1.9));
    const shape = drawShape(random, width / 2, long);
    const depth = (random.chance(0.72) ? -0.3 : 0.3) * (Math.min(5.5, 0.24 * width) / 0.3) ** random.next();
    if (surface.unsure[middle] === 1) continue;
    const { vertices, flat } = map.around(middle, 2.1 * long + 6);
    if (vertices.some((v) => Math.abs(heights[v]) > 0.05) && random.chance(0.85)) continue;
    const added = Float64Array.from(vertices, (_, i) => depth * shape(flat[2 * i], flat[2 * i + 1]));
    const area = added.reduce((sum, height, i) => sum + (Math.abs(height) > 0.1 * Math.abs(depth) ? surface.areas[vertices[i]] : 0), 0);
    // Cut off by the end of a toe or the top.
    if (area < (Math.PI / 4) * width * long) continue;
    vertices.forEach((v, i) => (heights[v] += added[i]));
    middles.push(middle);
  }
  const moved = positions.slice();
  for (let i = 0; i < moved.length; i++) moved[i] += heights[Math.floor(i / 3)] * normals[i];
  return { positions: moved, heights, middles };
}

/** Height over (u, v), 1 in the middle and a tenth of it near an outline that is an ellipse pushed about; some with a rim of the other sign. */
function drawShape(random: Random, short: number, long: number): (u: number, v: number) => number {
  const turn = random.between(0, Math.PI);
  const waves = [random.between(-0.25, 0.25), random.between(0, 0.15), random.between(0, 0.12)].map((size) => ({ size, phase: random.between(0, 7) }));
  const profile = drawProfile(random);
  const rim = random.chance(0.35) ? { height: random.between(0.05, 0.3), at: random.between(1.05, 1.35), half: random.between(0.25, 0.5) } : null;
  return (u, v) => {
    const x = u * Math.cos(turn) + v * Math.sin(turn);
    const y = v * Math.cos(turn) - u * Math.sin(turn);
    const angle = Math.atan2(y, x);
    const r = Math.hypot(x / long, y / short) * waves.reduce((sum, { size, phase }, k) => sum + size * Math.cos((k + 1) * angle + phase), 1);
    const across = rim === null ? 1 : (r - rim.at) / rim.half;
    return profile(r) - (rim === null || Math.abs(across) >= 1 ? 0 : rim.height * (1 - across * across) ** 3);
  };
}

/** A tenth of the height is left at r = 1, about. */
function drawProfile(random: Random): (r: number) => number {
  const power = random.between(1.6, 5);
  const order = random.between(1.5, 4);
  const bend = random.between(0.8, 1.6);
  const kind = random.next();
  if (kind < 0.6) return (r) => 10 ** -(r ** power);
  if (kind < 0.8) return (r) => (r >= 1.25 ? 0 : (1 - (r / 1.25) ** 2) ** order);
  return (r) => (r >= 1.15 ? 0 : 0.5 + 0.5 * Math.cos(Math.PI * (r / 1.15) ** bend));
}
