import { ExponentialMap } from '@cast-to-last/geometry/exponential-map';
import type { SplinePatch } from '@cast-to-last/geometry/spline-patch';
import { fitSplinePatch, newPatchFoot, projectToPatch } from '@cast-to-last/geometry/spline-patch';
import type { InspectionSurface } from './inspection-surface.js';
import type { Spot } from './spots.js';

/** How the fair surface over a mark is fitted; also used when the mark is smoothed. */
export const FAIR = {
  /** Knot spacing, mm. */
  spacing: 3.5,
  bendLength: 0,
  curlLength: 1.3,
  /** Width of the ring of sound surface that steers it, mm. */
  ring: 10,
} as const;

export const EXTENT = {
  /** First mask round a spot: this share of its gap and this many mm more. */
  maskShare: 1.1,
  maskMore: 1.5,
  /** The mark ends where it stands off by less than this share of its depth, but at least by this many mm. */
  edgeShare: 0.12,
  leastEdge: 0.1,
  /** Margin between a mark's edge and the ring that steers the fair surface, mm. */
  margin: 4,
  rounds: 3,
  /** Cells of the fair surface from middle to edge, at the most: a wide patch is fitted with wider knots. */
  cells: 6,
  /** How much wider the second look's mask is, mm. */
  widerBy: 3,
  /** The margin grows until the depth changes by no more than this share, or to this width, mm. */
  steady: 0.1,
  widestMargin: 10,
  widestMask: 22,
} as const;

type SplineStiffness = { readonly spacing: number; readonly bendLength: number; readonly curlLength: number };

/** The second opinion: a thin plate alone. */
const OTHER_FAIR = { bendLength: 0.6, curlLength: 0 } as const;

/** A piece of the inspection surface laid flat round a vertex. */
interface Surroundings {
  readonly vertices: Uint32Array;
  readonly flat: Float64Array;
  readonly points: Float64Array;
  /** From the middle, on the flat, mm. */
  readonly distance: Float64Array;
}

/** A mark's region over the fair surface that everything outside its mask asks for. */
interface Fit {
  readonly heights: Float64Array;
  readonly ringError: number;
  readonly region: number[];
  readonly mask: Uint8Array;
  readonly half: number;
  readonly margin: number;
  growth: number;
}

/** A spot measured against the fair surface that its surroundings ask for. */
export interface Extent {
  /** Coarse vertices of the mark, joined to each other. */
  readonly vertices: Uint32Array;
  /** Signed height of each over the fair surface, mm. */
  readonly heights: Float64Array;
  /** Signed extreme height, mm. */
  readonly depth: number;
  /** mm² */
  readonly area: number;
  readonly length: number;
  readonly width: number;
  readonly centre: readonly [number, number, number];
  readonly centreVertex: number;
  /** Root mean square of what the fair surface misses in the ring round the mark, mm. */
  readonly ringError: number;
  /** Depth against a fair surface that leaves out a wider ring, over the depth: near 1 where the mark ends, more where the shape goes on. */
  readonly growth: number;
  /** How far beyond the vertices the mark still bends the surface (its rim), mm. */
  readonly margin: number;
  /** By how much two ways of carrying the surroundings on differ within the mark, mm: the doubt in its depth. */
  readonly doubt: number;
}

/** Fits fair surfaces on the inspection surface. */
export class ExtentFinder {
  private readonly surface: InspectionSurface;
  private readonly map: ExponentialMap;
  /** Coarse vertices that belong to marks already found, and so steer nothing. */
  readonly masked: Uint8Array;
  /** Where a coarse vertex stands in the patch at hand; −1 outside it. */
  private readonly place: Int32Array;

  constructor(surface: InspectionSurface) {
    this.surface = surface;
    this.map = new ExponentialMap(surface.mesh, surface.neighbours, surface.normals);
    this.masked = new Uint8Array(surface.areas.length);
    this.place = new Int32Array(surface.areas.length).fill(-1);
  }

  /** @returns null where nothing stands off there once the mark itself no longer steers the surface */
  find(spot: Spot): Extent | null {
    const sign = Math.sign(spot.height);
    const radius = Math.min(EXTENT.widestMask, EXTENT.maskShare * spot.gap + EXTENT.maskMore);
    const reach = Math.min(EXTENT.widestMask, 1.35 * radius + 2) + FAIR.ring;
    const around = this.lookAround(spot.vertex, 1.08 * (reach + EXTENT.widerBy));
    let mask: Uint8Array = Uint8Array.from(around.distance, (d) => (d < radius ? 1 : 0));
    let outer = radius;
    let region: number[] = [];
    let heights: Float64Array = around.distance;
    let ringError = 0;
    for (let round = 0; round < EXTENT.rounds; round++) {
      const half = Math.min(outer + FAIR.ring, reach);
      ({ heights, ringError } = this.fit(around, mask, half, FAIR));
      region = this.grow(around.vertices, heights, around.distance, half, sign);
      if (region.length < 3) return null;
      outer = 0;
      for (const i of region) outer = Math.max(outer, around.distance[i]);
      if (outer > reach - FAIR.ring) return null;
      mask = this.dilate(around, region, EXTENT.margin, half);
      outer += EXTENT.margin;
    }
    // A raised rim steers the fair surface too: the margin grows until the depth no longer hangs on it. Where it always
    // does, the shape has no end, and the narrow margin stands.
    const narrow: Fit = { heights, ringError, region, mask, half: Math.min(outer + FAIR.ring, reach), margin: EXTENT.margin, growth: 1 };
    let fit = narrow;
    for (;;) {
      const next = this.widen(around, fit, sign, reach);
      fit.growth = extreme(next.heights, fit.region, sign) / extreme(fit.heights, fit.region, sign);
      if (Math.abs(fit.growth - 1) <= EXTENT.steady) break;
      if (next.margin > EXTENT.widestMargin || next.region.length < 3) {
        fit = narrow;
        break;
      }
      fit = next;
    }
    ({ heights, ringError, region, mask } = fit);
    const { half, margin, growth } = fit;
    const other = this.fit(around, mask, half, { ...FAIR, ...OTHER_FAIR }).heights;
    let doubt = 0;
    for (const i of region) doubt = Math.max(doubt, Math.abs(other[i] - heights[i]));
    return { ...this.describe(around.vertices, heights, region, sign), ringError, doubt, growth, margin };
  }

  /** The same mark with a margin wider by one step. */
  private widen(around: Surroundings, fit: Fit, sign: number, reach: number): Fit {
    const margin = fit.margin + EXTENT.widerBy;
    const half = Math.min(fit.half + EXTENT.widerBy, reach + EXTENT.widerBy);
    const mask = this.dilate(around, fit.region, margin, half);
    const { heights, ringError } = this.fit(around, mask, half, FAIR);
    return { heights, ringError, region: this.grow(around.vertices, heights, around.distance, half, sign), mask, half, margin, growth: 1 };
  }

  private lookAround(vertex: number, radius: number): Surroundings {
    const { vertices, flat } = this.map.around(vertex, radius);
    const points = new Float64Array(3 * vertices.length);
    const distance = new Float64Array(vertices.length);
    for (let i = 0; i < vertices.length; i++) {
      for (let k = 0; k < 3; k++) points[3 * i + k] = this.surface.mesh.positions[3 * vertices[i] + k];
      distance[i] = Math.hypot(flat[2 * i], flat[2 * i + 1]);
    }
    return { vertices, flat, points, distance };
  }

  /** Heights over the fair surface that everything outside the mask asks for. */
  private fit(around: Surroundings, mask: Uint8Array, half: number, stiffness: typeof FAIR | SplineStiffness): { heights: Float64Array; ringError: number } {
    const { vertices, flat, points, distance } = around;
    const weights = new Float64Array(vertices.length);
    for (let i = 0; i < vertices.length; i++) {
      const v = vertices[i];
      if (mask[i] === 0 && distance[i] <= half && this.masked[v] === 0) weights[i] = this.surface.areas[v];
    }
    const patch = fitSplinePatch(flat, points, weights, { ...stiffness, half, spacing: Math.max(stiffness.spacing, half / EXTENT.cells) });
    const heights = this.heightsOver(patch, flat, points, distance, half);
    return { heights, ringError: this.rms(heights, weights) };
  }

  private heightsOver(patch: SplinePatch, flat: Float64Array, points: Float64Array, distance: Float64Array, half: number): Float64Array {
    const heights = new Float64Array(distance.length);
    const foot = newPatchFoot();
    for (let i = 0; i < distance.length; i++) {
      if (distance[i] > half) continue;
      foot.u = flat[2 * i];
      foot.v = flat[2 * i + 1];
      projectToPatch(patch, points[3 * i], points[3 * i + 1], points[3 * i + 2], foot, 2);
      heights[i] = foot.over;
    }
    return heights;
  }

  private rms(heights: Float64Array, weights: Float64Array): number {
    let sum = 0;
    let total = 0;
    for (let i = 0; i < weights.length; i++) {
      sum += weights[i] * heights[i] * heights[i];
      total += weights[i];
    }
    return total === 0 ? Infinity : Math.sqrt(sum / total);
  }

  /** The joined vertices round the extreme nearest the middle that stand off by more than the edge height. */
  private grow(vertices: Uint32Array, heights: Float64Array, distance: Float64Array, half: number, sign: number): number[] {
    let peak = -1;
    for (let i = 0; i < vertices.length; i++) {
      if (distance[i] > 0.5 * half || sign * heights[i] <= 0) continue;
      if (peak < 0 || sign * heights[i] > sign * heights[peak]) peak = i;
    }
    if (peak < 0) return [];
    const edge = Math.max(EXTENT.leastEdge, EXTENT.edgeShare * Math.abs(heights[peak]));
    const { place } = this;
    vertices.forEach((v, i) => (place[v] = i));
    const seen = new Uint8Array(vertices.length);
    const region = [peak];
    seen[peak] = 1;
    const { offsets, items } = this.surface.neighbours;
    for (let head = 0; head < region.length; head++) {
      const v = vertices[region[head]];
      for (let j = offsets[v]; j < offsets[v + 1]; j++) {
        const i = place[items[j]];
        if (i < 0 || seen[i] === 1 || distance[i] > half || sign * heights[i] < edge) continue;
        seen[i] = 1;
        region.push(i);
      }
    }
    for (const v of vertices) place[v] = -1;
    return region;
  }

  /** The region with the margin round it: everything nearer than the margin to one of its vertices on the flat. */
  private dilate({ flat, distance }: Surroundings, region: number[], margin: number, half: number): Uint8Array {
    const mask = new Uint8Array(distance.length);
    const reach = margin ** 2;
    for (let i = 0; i < distance.length; i++) {
      if (distance[i] > half) continue;
      for (const r of region) {
        const du = flat[2 * i] - flat[2 * r];
        const dv = flat[2 * i + 1] - flat[2 * r + 1];
        if (du * du + dv * dv <= reach) {
          mask[i] = 1;
          break;
        }
      }
    }
    return mask;
  }

  private describe(vertices: Uint32Array, heights: Float64Array, region: number[], sign: number): Omit<Extent, 'ringError' | 'growth' | 'doubt' | 'margin'> {
    const p = this.surface.mesh.positions;
    const { areas } = this.surface;
    let area = 0;
    let weight = 0;
    const centre: [number, number, number] = [0, 0, 0];
    let peak = region[0];
    for (const i of region) {
      const v = vertices[i];
      area += areas[v];
      const w = areas[v] * Math.abs(heights[i]);
      weight += w;
      for (let k = 0; k < 3; k++) centre[k] += w * p[3 * v + k];
      if (sign * heights[i] > sign * heights[peak]) peak = i;
    }
    for (let k = 0; k < 3; k++) centre[k] /= weight;
    const [length, width] = spans(p, areas, vertices, region, centre);
    let nearest = region[0];
    let least = Infinity;
    for (const i of region) {
      const v = 3 * vertices[i];
      const d = Math.hypot(p[v] - centre[0], p[v + 1] - centre[1], p[v + 2] - centre[2]);
      if (d < least) [least, nearest] = [d, i];
    }
    return {
      vertices: Uint32Array.from(region, (i) => vertices[i]),
      heights: Float64Array.from(region, (i) => heights[i]),
      depth: heights[peak],
      area,
      length,
      width,
      centre,
      centreVertex: vertices[nearest],
    };
  }
}

/** The greatest height of the region's vertices in the direction of the sign, mm. */
const extreme = (heights: Float64Array, region: readonly number[], sign: number): number =>
  region.reduce((most, i) => Math.max(most, sign * heights[i]), 0);

/** Length and width of an ellipse with the region's second moments: four standard deviations along its main axes. */
function spans(p: Float64Array, areas: Float64Array, vertices: Uint32Array, region: number[], centre: readonly number[]): [number, number] {
  const m = new Float64Array(6);
  let total = 0;
  for (const i of region) {
    const v = vertices[i];
    const d = [p[3 * v] - centre[0], p[3 * v + 1] - centre[1], p[3 * v + 2] - centre[2]];
    const w = areas[v];
    total += w;
    m[0] += w * d[0] * d[0];
    m[1] += w * d[1] * d[1];
    m[2] += w * d[2] * d[2];
    m[3] += w * d[0] * d[1];
    m[4] += w * d[0] * d[2];
    m[5] += w * d[1] * d[2];
  }
  for (let k = 0; k < 6; k++) m[k] /= total;
  const [a, b] = topTwoEigenvalues(m);
  return [4 * Math.sqrt(a), 4 * Math.sqrt(Math.max(0, b))];
}

/** The two greatest eigenvalues of a symmetric 3 × 3 (xx, yy, zz, xy, xz, yz), by the trigonometric formula. */
function topTwoEigenvalues([xx, yy, zz, xy, xz, yz]: Float64Array): [number, number] {
  const q = (xx + yy + zz) / 3;
  const off = xy * xy + xz * xz + yz * yz;
  const spread = Math.sqrt(((xx - q) ** 2 + (yy - q) ** 2 + (zz - q) ** 2 + 2 * off) / 6);
  if (spread === 0) return [q, q];
  const [a, b, c] = [(xx - q) / spread, (yy - q) / spread, (zz - q) / spread];
  const [d, e, f] = [xy / spread, xz / spread, yz / spread];
  const half = (a * b * c + 2 * d * e * f - a * f * f - b * e * e - c * d * d) / 2;
  const angle = Math.acos(Math.max(-1, Math.min(1, half))) / 3;
  const first = q + 2 * spread * Math.cos(angle);
  const third = q + 2 * spread * Math.cos(angle + (2 * Math.PI) / 3);
  return [first, 3 * q - first - third];
}
