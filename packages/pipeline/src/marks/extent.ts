import type { ExtentShape } from './extent-shape.js';
import { extentShape } from './extent-shape.js';
import type { Surroundings } from './fair-surface.js';
import { FAIR, FairSurface } from './fair-surface.js';
import type { InspectionSurface } from './inspection-surface.js';
import { joinedPlaces } from './joined-places.js';
import { gapTo, middleOf } from './region-on-flat.js';
import { unrest } from './unrest.js';
import type { Place } from './places.js';

export const EXTENT = {
  /** First mask round a place: this share of its radius and this many mm more. */
  maskShare: 1.1,
  maskMore: 1.5,
  /** The mark ends where it stands off by less than this share of its depth, but at least by this many mm. */
  edgeShare: 0.12,
  leastEdge: 0.07,
  /** Margin between a mark's edge and the ring that steers the fair surface, mm. */
  margin: 4,
  rounds: 3,
  /** Rounds end once the depth changes by less than this share. */
  settled: 0.03,
  /** Facets up to this wide are fine, mm; wider ones raise doubt by this much for each mm² more, 1/mm. */
  fineSpacing: 2.2,
  sag: 0.02,
  /** Doubt at its best, as a share of the depth. */
  bestDoubt: 0.08,
  /** The margin grows by this much as long as what it takes in stands off by more than `quiet`, up to `widestMargin`; all mm. */
  widerBy: 3,
  quiet: 0.05,
  /** What doubt in the depth weighs against unrest, where margins are compared. */
  doubtWeight: 0.2,
  widestMargin: 16,
  widestMask: 22,
} as const;

/** The second opinion: a thin plate alone. */
const OTHER_FAIR = { ...FAIR, bendLength: 0.6, curlLength: 0 } as const;

/** A mark's region over the fair surface that everything outside its mask asks for. */
interface Fit {
  readonly around: Surroundings;
  readonly heights: Float64Array;
  readonly ringError: number;
  readonly region: number[];
  readonly mask: Uint8Array;
  readonly half: number;
  readonly margin: number;
  growth: number;
}

/** A place measured against the fair surface that its surroundings ask for. */
export interface Extent extends ExtentShape {
  /** Coarse vertices of the mark, joined to each other. */
  readonly vertices: Uint32Array;
  /** Signed extreme height, mm. */
  readonly depth: number;
  /** Root mean square of what the fair surface misses in the ring round the mark, mm. */
  readonly ringError: number;
  /** Depth against a fair surface that leaves out a wider ring, over the depth: near 1 where the mark ends, more where the shape goes on. */
  readonly growth: number;
  /** How far beyond the vertices the mark still bends the surface (its rim), mm. */
  readonly margin: number;
  /** By how much two ways of carrying the surroundings on differ within the mark, mm: the doubt in its depth. */
  readonly doubt: number;
}

/** Measures places against the fair surface that their surroundings ask for. */
export class ExtentFinder {
  private readonly surface: InspectionSurface;
  private readonly fair: FairSurface;
  /** Where a coarse vertex stands in the patch at hand; −1 outside it. */
  private readonly place: Int32Array;

  constructor(surface: InspectionSurface) {
    this.surface = surface;
    this.fair = new FairSurface(surface);
    this.place = new Int32Array(surface.areas.length).fill(-1);
  }

  /** Coarse vertices that belong to marks already found, and so steer nothing. */
  get masked(): Uint8Array {
    return this.fair.masked;
  }

  /**
   * @param isHopeless asked with the extent as first measured, its doubt and growth at their best: true spares the rest
   * @returns null where nothing stands off there once the mark itself no longer steers the surface
   */
  find(place: Omit<Place, 'vertices'>, isHopeless: (extent: Extent) => boolean = () => false): Extent | null {
    const sign = Math.sign(place.height);
    const radius = Math.min(EXTENT.widestMask, EXTENT.maskShare * place.radius + EXTENT.maskMore);
    const reach = Math.min(EXTENT.widestMask, 1.35 * radius + 2) + FAIR.ring;
    const around = this.fair.lookAround(place.vertex, 1.08 * (reach + EXTENT.widerBy));
    const first = this.firstFit(around, radius, reach, sign);
    if (first === null || isHopeless(this.asExtent(first, sign, EXTENT.bestDoubt * extreme(first.heights, first.region, sign)))) return null;
    const { fit, doubt } = this.takeInRim(first, sign);
    return this.asExtent(fit, sign, doubt);
  }

  /** The region that stands off, found in rounds: each leaves out what the one before found, with a margin. */
  private firstFit(around: Surroundings, radius: number, reach: number, sign: number): Fit | null {
    let mask = within(around.distance, radius);
    let outer = radius;
    let last: Fit | null = null;
    for (let round = 0; round < EXTENT.rounds; round++) {
      const half = Math.min(outer + FAIR.ring, reach);
      const { heights, ringError } = this.fair.heightsOver(around, mask, half);
      const region = this.grow(around, heights, half, sign);
      if (region.length < 3) return null;
      outer = 0;
      for (const i of region) outer = Math.max(outer, around.distance[i]);
      if (outer > reach - FAIR.ring) return null;
      const gap = gapTo(around, region, EXTENT.margin);
      mask = within(gap, EXTENT.margin);
      outer += EXTENT.margin;
      const before: number = last === null ? 0 : extreme(last.heights, last.region, sign);
      last = { around, heights, ringError, region, mask, half: Math.min(outer + FAIR.ring, reach), margin: EXTENT.margin, growth: 1 };
      if (Math.abs(extreme(heights, region, sign) - before) < EXTENT.settled * before) break;
    }
    return last;
  }

  /**
   * A rim or flank that steers the fair surface bends it: the margin grows until what it took in last lies still on the
   * surface that leaves it out. Of the margins tried that one stands which came nearest to it with the least doubt.
   */
  private takeInRim(first: Fit, sign: number): { fit: Fit; doubt: number } {
    const step = EXTENT.widerBy;
    let fit = first;
    let gap = gapTo(fit.around, fit.region, fit.margin + step);
    let best = { fit, doubt: 0 };
    let least = Infinity;
    for (let margin = fit.margin; margin + step <= EXTENT.widestMargin; margin += step) {
      const wider = this.fitBeyond(fit.around, fit.region, gap, margin + step);
      fit.growth = extreme(wider.heights, fit.region, sign) / extreme(fit.heights, fit.region, sign);
      const stir = unrest(fit.around.flat, wider.heights, gap, margin, margin + step, middleOf(fit), wider.ringError);
      const doubt = this.doubtOf(fit);
      const total = Math.max(0, stir - EXTENT.quiet) + EXTENT.doubtWeight * doubt;
      if (total < least) {
        least = total;
        best = { fit, doubt };
      }
      if (stir <= EXTENT.quiet || margin + 2 * step > EXTENT.widestMargin) break;
      const region = this.grow(wider.around, wider.heights, wider.half, sign);
      if (region.length < 3) break;
      const next = margin === first.margin ? this.lookWider(wider.around, region) : { around: wider.around, region };
      gap = gapTo(next.around, next.region, margin + 2 * step);
      fit = this.fitBeyond(next.around, next.region, gap, margin + step);
    }
    return best;
  }

  /** By how much a second way of carrying the surroundings on differs within the mark, mm. */
  private doubtOf({ around, mask, half, region, heights }: Fit): number {
    const other = this.fair.heightsAt(around, mask, half, OTHER_FAIR, region);
    let doubt = 0;
    for (let k = 0; k < region.length; k++) doubt = Math.max(doubt, Math.abs(other[k] - heights[region[k]]));
    return doubt;
  }

  /** The region in surroundings round its middle that hold the widest margin and the ring beyond it. */
  private lookWider({ vertices, flat }: Surroundings, region: readonly number[]): { around: Surroundings; region: number[] } {
    const [u, v] = middleOf({ around: { flat }, region });
    const off = (i: number): number => Math.hypot(flat[2 * i] - u, flat[2 * i + 1] - v);
    let middle = region[0];
    let outer = 0;
    for (const i of region) {
      if (off(i) < off(middle)) middle = i;
      outer = Math.max(outer, off(i));
    }
    const around = this.fair.lookAround(vertices[middle], 1.1 * (outer + EXTENT.widestMargin + FAIR.ring));
    const { place } = this;
    around.vertices.forEach((w, i) => (place[w] = i));
    const carried = region.map((i) => place[vertices[i]]).filter((i) => i >= 0);
    for (const w of around.vertices) place[w] = -1;
    return { around, region: carried };
  }

  /** The region over the surface that what lies farther than the margin from it asks for. */
  private fitBeyond(around: Surroundings, region: number[], gap: Float64Array, margin: number): Fit {
    let outer = 0;
    const mask = new Uint8Array(gap.length);
    for (let i = 0; i < gap.length; i++) {
      if (gap[i] > margin) continue;
      mask[i] = 1;
      outer = Math.max(outer, around.distance[i]);
    }
    const half = outer + FAIR.ring;
    return { around, ...this.fair.heightsOver(around, mask, half), region, mask, half, margin, growth: 1 };
  }

  /** The joined vertices round the extreme nearest the middle that stand off by more than the edge height. */
  private grow(around: Surroundings, heights: Float64Array, half: number, sign: number): number[] {
    const { vertices, distance } = around;
    let peak = -1;
    for (let i = 0; i < vertices.length; i++) {
      if (distance[i] > 0.5 * half || sign * heights[i] <= 0) continue;
      if (peak < 0 || sign * heights[i] > sign * heights[peak]) peak = i;
    }
    if (peak < 0) return [];
    const edge = Math.max(EXTENT.leastEdge, EXTENT.edgeShare * Math.abs(heights[peak]));
    return joinedPlaces(this.surface, around, [peak], (i) => distance[i] <= half && sign * heights[i] >= edge, this.place);
  }

  private asExtent({ around, heights, ringError, region, margin, growth }: Fit, sign: number, ownDoubt: number): Extent {
    const doubt = Math.hypot(ownDoubt, facetDoubt(this.surface.spacing));
    const vertices = Uint32Array.from(region, (i) => around.vertices[i]);
    const own = Float64Array.from(region, (i) => heights[i]);
    const depth = sign * extreme(heights, region, sign);
    return { ...extentShape(this.surface, vertices, own), vertices, depth, ringError, doubt, growth, margin };
  }
}

/** How much of a height may come from the scan's facets being wide, mm: their sag over a curve of about 25 mm radius. */
const facetDoubt = (spacing: number): number => EXTENT.sag * Math.max(0, spacing * spacing - EXTENT.fineSpacing ** 2);

/** The greatest height of the region's vertices in the direction of the sign, mm. */
const extreme = (heights: Float64Array, region: readonly number[], sign: number): number =>
  region.reduce((most, i) => Math.max(most, sign * heights[i]), 0);

/** One byte a value: 1 where it is at most the limit. */
function within(values: Float64Array, limit: number): Uint8Array {
  const mask = new Uint8Array(values.length);
  for (let i = 0; i < values.length; i++) mask[i] = values[i] <= limit ? 1 : 0;
  return mask;
}
