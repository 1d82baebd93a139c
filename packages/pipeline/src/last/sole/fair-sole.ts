import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import { fitSplinePatch, pointOnPatch } from '@cast-to-last/geometry/splines/spline-patch';
import type { OutlineIndex, OutlinePlace } from './outline-index.js';
import type { SoleMap } from './sole-map.js';
import { heightAt } from './sole-map.js';

export const FAIR_SOLE = {
  /** Knot spacing of the fair surface, mm. */
  spacing: 8,
  /** Half the side of the square over which it is spread, as a share of foot length. */
  half: 0.56,
  /** Lengths below which the sole's bending, and the change of it, count as unevenness, mm. */
  bendLength: 2.5,
  curlLength: 4,
  /** Nothing nearer to the outline than this steers the fair surface, mm: there the sole turns up. */
  rim: 6,
  /** A vertex that lies further than this off the map of the sole is none of it, mm. */
  near: 2,
  /** Distances from the fair surface beyond which a place counts as a mark and no longer steers it, mm. */
  mark: 1,
  /** Most vertices that steer it. */
  most: 20_000,
} as const;

/** z of a surface over plan, mm. */
export type HeightOver = (x: number, y: number) => number;

/** Which vertices of a mesh are of the sole, and how far inside its outline they lie (mm; at most the index's reach); −1 for all others. */
export function depthInSole({ positions: p }: Mesh, map: SoleMap, index: OutlineIndex, reach: number): Float64Array {
  const place: OutlinePlace = { sample: 0, share: 0, out: 0 };
  const depth = new Float64Array(p.length / 3).fill(-1);
  for (let v = 0; v < depth.length; v++) {
    const z = heightAt(map, p[3 * v], p[3 * v + 1]);
    if (!(Math.abs(p[3 * v + 2] - z) < FAIR_SOLE.near)) continue;
    depth[v] = index.locate(p[3 * v], p[3 * v + 1], place) ? Math.max(-1, -place.out) : reach;
  }
  return depth;
}

/**
 * The sole freed of what is too small to be the foot's shape: least squares with bending held down, fitted again without
 * what stands off the first fit as a mark.
 *
 * @param depth of `depthInSole`
 */
export function fairSole(mesh: Mesh, depth: Float64Array, { footLength }: Landmarks): HeightOver {
  const { positions: p } = mesh;
  const area = meanEdgeLength(mesh) ** 2 * 0.87;
  const all: number[] = [];
  for (let v = 0; v < depth.length; v++) if (depth[v] >= FAIR_SOLE.rim) all.push(v);
  const every = Math.ceil(all.length / FAIR_SOLE.most);
  const chosen = all.filter((_, i) => i % every === 0);
  const mx = footLength / 2;
  const half = FAIR_SOLE.half * footLength;
  const flat = new Float64Array(2 * chosen.length);
  const points = new Float64Array(3 * chosen.length);
  chosen.forEach((v, i) => {
    flat.set([p[3 * v] - mx, p[3 * v + 1]], 2 * i);
    points.set(p.subarray(3 * v, 3 * v + 3), 3 * i);
  });
  const weights = new Float64Array(chosen.length).fill(area * every);
  const { spacing, bendLength, curlLength } = FAIR_SOLE;
  const fit = (): HeightOver => {
    const patch = fitSplinePatch(flat, points, weights, { half, spacing, bendLength, curlLength });
    const out = new Float64Array(3);
    const most = half - 1e-6;
    const within = (u: number): number => Math.max(-most, Math.min(most, u));
    return (x, y) => {
      pointOnPatch(patch, within(x - mx), within(y), out);
      return out[2];
    };
  };
  const first = fit();
  for (let i = 0; i < weights.length; i++) {
    const off = (points[3 * i + 2] - first(points[3 * i], points[3 * i + 1])) / FAIR_SOLE.mark;
    weights[i] *= Math.abs(off) >= 1 ? 0 : (1 - off * off) ** 2;
  }
  return fit();
}
