import type { InspectionSurface } from './inspection-surface.js';

/** A place that stands off by the learned heights. */
export interface Place {
  /** Where it stands off most. */
  readonly vertex: number;
  /** All of it, in no order. */
  readonly vertices: readonly number[];
  /** Radius of a disc of its area, mm. */
  readonly radius: number;
  /** By how much it stands off there; negative into the cast. mm */
  readonly height: number;
}

export const PLACES = {
  /** Heights below this are not looked at further, mm. */
  leastHeight: 0.12,
  /** Nor places smaller than this, mm². */
  leastArea: 25,
  /** A place ends where it stands off by less than this share of its height. */
  edgeShare: 0.15,
  /** Two heights are one place where the way between them does not fall below this share of the lower one. */
  oneShare: 0.7,
} as const;

/** Where the learned heights, a value a vertex, stand off, the highest first. Neighbouring heights with a valley between them are places of their own. */
export function findPlaces(surface: InspectionSurface, learned: Float32Array): Place[] {
  const { neighbours: { offsets, items }, areas, unsure } = surface;
  const heights = learned.map((height, v) => (unsure[v] === 1 ? 0 : height));
  const order = Uint32Array.from(heights.keys()).filter((v) => Math.abs(heights[v]) > PLACES.edgeShare * PLACES.leastHeight);
  order.sort((a, b) => Math.abs(heights[b]) - Math.abs(heights[a]) || a - b);
  /** The peak that each vertex belongs to, by way of others that were joined to it; −1 for none yet. */
  const above = new Int32Array(areas.length).fill(-1);
  const peakOf = (v: number): number => {
    let peak = v;
    while (above[peak] !== peak) peak = above[peak];
    return peak;
  };
  for (const v of order) {
    let own = -1;
    for (let i = offsets[v]; i < offsets[v + 1]; i++) {
      const w = items[i];
      if (above[w] < 0 || heights[w] > 0 !== heights[v] > 0) continue;
      const other = peakOf(w);
      if (own < 0) {
        own = other;
        continue;
      }
      if (other === own) continue;
      const [high, low] = Math.abs(heights[own]) >= Math.abs(heights[other]) ? [own, other] : [other, own];
      if (Math.abs(heights[v]) >= PLACES.oneShare * Math.abs(heights[low])) above[low] = high;
      own = high;
    }
    above[v] = own < 0 ? v : own;
  }
  const members = new Map<number, number[]>();
  for (const v of order) {
    const peak = peakOf(v);
    if (Math.abs(heights[v]) < PLACES.edgeShare * Math.abs(heights[peak])) continue;
    const own = members.get(peak);
    if (own === undefined) members.set(peak, [v]);
    else own.push(v);
  }
  const places: Place[] = [];
  for (const [vertex, vertices] of members) {
    const area = vertices.reduce((sum, v) => sum + areas[v], 0);
    if (Math.abs(heights[vertex]) >= PLACES.leastHeight && area >= PLACES.leastArea) places.push({ vertex, vertices, radius: Math.sqrt(area / Math.PI), height: heights[vertex] });
  }
  return places;
}
