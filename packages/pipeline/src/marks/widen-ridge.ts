import type { FairSurface, Surroundings } from './fair-surface.js';
import { FAIR } from './fair-surface.js';
import type { InspectionSurface } from './inspection-surface.js';
import { joinedPlaces } from './joined-places.js';
import { gapTo } from './region-on-flat.js';
import type { Ridge } from './ridges.js';
import { spreadAlong } from './spread-along.js';

export const WIDEN = {
  /** A window along the ridge covers what lies within this distance of its middle, mm; the next lies about half as far on. */
  window: 12,
  /** Flanks are followed this far from the crest, mm: what stands off farther is the foot's own form. */
  reach: 14,
  /** Margin between what stands off and the ground that steers the fair surface, mm. */
  margin: 4,
  /** A flank ends where it stands off by less than this share of the crest, but by at least this many mm and this many times the roughness. */
  edgeShare: 0.15,
  leastEdge: 0.07,
  edgeNoise: 1.5,
  rounds: 4,
} as const;

interface Window {
  readonly around: Surroundings;
  /** Places of the crest in the window, and how far each place lies from the crest on the flat, mm. */
  readonly crest: readonly number[];
  readonly fromCrest: Float64Array;
}

/**
 * A ridge with its flanks. A crest is found by its sharpest part; a bandage's edge may run out to one side over several
 * times that width. Windows along the crest are measured against the fair surface that the ground beside asks for, in
 * rounds: each leaves out what the one before found. A window in which flanks run on to the end of the reach lies on the
 * foot's own form and keeps its crest alone.
 */
export function widenRidge(surface: InspectionSurface, fair: FairSurface, ridge: Ridge, roughness: number): Ridge {
  const sign = Math.sign(ridge.height);
  const edge = Math.max(WIDEN.leastEdge, WIDEN.edgeNoise * roughness, WIDEN.edgeShare * Math.abs(ridge.height));
  const crest = new Set(ridge.vertices);
  const whole = new Set(crest);
  const place = new Int32Array(surface.areas.length).fill(-1);
  for (const middle of spreadAlong(surface, ridge.vertices, WIDEN.window / 2)) {
    for (const v of flanksIn(surface, fair, lookAlong(fair, middle, crest), sign, edge, place)) whole.add(v);
  }
  const vertices = Uint32Array.from(whole);
  const area = vertices.reduce((sum, v) => sum + surface.areas[v], 0);
  return { ...ridge, vertices, area, width: area / Math.max(ridge.length, 1) };
}

function lookAlong(fair: FairSurface, middle: number, onCrest: ReadonlySet<number>): Window {
  const around = fair.lookAround(middle, 1.08 * (WIDEN.window + WIDEN.reach + WIDEN.margin + FAIR.ring));
  const crest: number[] = [];
  around.vertices.forEach((v, i) => {
    if (onCrest.has(v)) crest.push(i);
  });
  return { around, crest, fromCrest: gapTo(around, crest, Infinity) };
}

/** What stands off beside the crest within the window; nothing where flanks run on to the end of the reach. */
function flanksIn(surface: InspectionSurface, fair: FairSurface, { around, crest, fromCrest }: Window, sign: number, edge: number, place: Int32Array): number[] {
  const half = WIDEN.window + WIDEN.reach + FAIR.ring;
  let region: readonly number[] = crest;
  for (let round = 0; round < WIDEN.rounds; round++) {
    const gap = gapTo(around, region, WIDEN.margin);
    const mask = Uint8Array.from(gap, (g) => (g <= WIDEN.margin ? 1 : 0));
    const { heights } = fair.heightsOver(around, mask, half);
    const grown = joinedPlaces(surface, around, crest, (i) => fromCrest[i] <= WIDEN.reach && around.distance[i] <= half - FAIR.ring && sign * heights[i] >= edge, place);
    if (grown.some((i) => fromCrest[i] > WIDEN.reach - surface.spacing && around.distance[i] <= WIDEN.window)) return [];
    const settled = grown.length <= region.length;
    region = grown;
    if (settled) break;
  }
  return region.filter((i) => around.distance[i] <= WIDEN.window).map((i) => around.vertices[i]);
}
