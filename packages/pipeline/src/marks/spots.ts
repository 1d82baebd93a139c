import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { EvenFilter } from './even-filter.js';
import { askedHeight, evenFilter } from './even-filter.js';
import type { InspectionSurface } from './inspection-surface.js';
import { ASKING_ORDER, LineProfiles, STEP } from './line-profiles.js';

/** A place that stands out from its surroundings in every direction. */
export interface Spot {
  readonly vertex: number;
  /** Half-width of the gap at which it stands out, mm. */
  readonly gap: number;
  /** The least height over what its surroundings ask for, over all directions; negative into the cast. mm */
  readonly height: number;
  /** That height as a share of the mean over all directions: near 1 where all agree. */
  readonly evenness: number;
}

export const SPOTS = {
  /** Half-widths of the gap, mm. */
  gaps: [4, 5.5, 7.5, 10, 13, 16],
  /** How far the surroundings reach beyond the gap: a share of it, but at least this many mm. */
  reachShare: 0.8,
  leastReach: 5,
  /** Heights below this are not looked at further, mm. */
  leastHeight: 0.3,
  /** A gap narrower than this many spacings of the vertices shows facets, not marks. */
  leastSpacings: 1.7,
  /** Gaps from here on are asked at every few vertices only, mm. */
  sparseFrom: 9,
  /** … and a spot then moves to its highest neighbour, this many times at the most. */
  climb: 3,
  /** Directions that must have a profile long enough. */
  leastLines: 4,
  /** A wider gap is asked only where it shows this much more than a narrower one at about the same place. */
  widerGain: 1.12,
} as const;

/**
 * Places where the surface stands off, in every direction alike, from the curve that its two sides ask for: the symmetric
 * matched filter that separates a fingertip's mark from ridges, toes, webs and edges of the foot, which run on in one
 * direction at least.
 */
export function findSpots(surface: InspectionSurface): Spot[] {
  const filters = SPOTS.gaps.filter((gap) => gap >= SPOTS.leastSpacings * surface.spacing).map((gap) => evenFilter(gap, Math.max(SPOTS.leastReach, SPOTS.reachShare * gap), STEP));
  // A wide gap's height changes slowly from place to place: every few vertices are enough, which spares most of the long lines.
  const narrow = filters.filter(({ gap }) => gap < SPOTS.sparseFrom);
  const wide = filters.filter(({ gap }) => gap >= SPOTS.sparseFrom);
  const all = Uint32Array.from(surface.areas.keys());
  const spots = standouts(surface, [...askAll(surface, narrow, all), ...askAll(surface, wide, spreadOut(surface))]);
  const climber = wide.length === 0 ? null : new LineProfiles(surface, wide[wide.length - 1].to * STEP);
  return spots.map((spot) => {
    const filter = wide.find(({ gap }) => gap === spot.gap);
    return filter === undefined || climber === null ? spot : climb(surface, climber, filter, spot);
  });
}

/** The highest spot that is reached from neighbour to higher neighbour. */
function climb(surface: InspectionSurface, profiles: LineProfiles, filter: EvenFilter, from: Spot): Spot {
  const { offsets, items } = surface.neighbours;
  const filters = [filter];
  const tally = newTally(1);
  let best = from;
  for (let step = 0; step < SPOTS.climb; step++) {
    const around: Spot[][] = [[]];
    for (let i = offsets[best.vertex]; i < offsets[best.vertex + 1]; i++) {
      if (surface.unsure[items[i]] === 0) askAt(profiles, filters, items[i], tally, around);
    }
    const higher = around[0].reduce((a, b) => (b.height > 0 === best.height > 0 && Math.abs(b.height) > Math.abs(a.height) ? b : a), best);
    if (higher === best) return best;
    best = higher;
  }
  return best;
}

/** The spots of each gap, asked at the given vertices. */
function askAll(surface: InspectionSurface, filters: readonly EvenFilter[], vertices: Uint32Array): Spot[][] {
  const byGap: Spot[][] = filters.map(() => []);
  if (filters.length === 0) return byGap;
  const profiles = new LineProfiles(surface, filters[filters.length - 1].to * STEP);
  const tally = newTally(filters.length);
  for (const vertex of vertices) if (surface.unsure[vertex] === 0) askAt(profiles, filters, vertex, tally, byGap);
  return byGap;
}

/** Vertices no two of which are neighbours, so many that every other one has a neighbour among them. */
function spreadOut({ neighbours: { offsets, items }, areas }: InspectionSurface): Uint32Array {
  const near = new Uint8Array(areas.length);
  const chosen: number[] = [];
  for (let v = 0; v < areas.length; v++) {
    if (near[v] === 1) continue;
    chosen.push(v);
    for (let i = offsets[v]; i < offsets[v + 1]; i++) near[items[i]] = 1;
  }
  return Uint32Array.from(chosen);
}

/** What the lines through a vertex say at each gap; used again for the next vertex. */
interface Tally {
  readonly least: Float64Array;
  readonly sum: Float64Array;
  readonly lines: Uint8Array;
  readonly sign: Int8Array;
  readonly dead: Uint8Array;
}

const newTally = (gaps: number): Tally => ({
  least: new Float64Array(gaps),
  sum: new Float64Array(gaps),
  lines: new Uint8Array(gaps),
  sign: new Int8Array(gaps),
  dead: new Uint8Array(gaps),
});

/** Adds the vertex to the spots of every gap at which it stands out. */
function askAt(profiles: LineProfiles, filters: readonly EvenFilter[], vertex: number, { least, sum, lines, sign, dead }: Tally, byGap: Spot[][]): void {
  for (let f = 0; f < filters.length; f++) {
    least[f] = Infinity;
    sum[f] = 0;
    lines[f] = 0;
    sign[f] = 0;
    dead[f] = 0;
  }
  let alive = filters.length;
  profiles.at(vertex);
  for (const line of ASKING_ORDER) {
    // The widest gap that is still open says how far the line has to go.
    let widest = filters.length - 1;
    while (dead[widest] === 1) widest--;
    const steps = profiles.take(line, filters[widest].to);
    for (let f = 0; f < filters.length; f++) {
      const filter = filters[f];
      if (dead[f] === 1 || filter.to > steps) continue;
      const height = -askedHeight(filter, profiles.mean);
      const now = height > 0 ? 1 : -1;
      if (Math.abs(height) < SPOTS.leastHeight || (sign[f] !== 0 && sign[f] !== now)) {
        dead[f] = 1;
        alive--;
        continue;
      }
      sign[f] = now;
      lines[f]++;
      sum[f] += Math.abs(height);
      least[f] = Math.min(least[f], Math.abs(height));
    }
    if (alive === 0) return;
  }
  for (let f = 0; f < filters.length; f++) {
    if (dead[f] === 0 && lines[f] >= SPOTS.leastLines) {
      byGap[f].push({ vertex, gap: filters[f].gap, height: sign[f] * least[f], evenness: (least[f] * lines[f]) / sum[f] });
    }
  }
}

/** At each gap the strongest of its neighbourhood; a wider gap adds a spot only where it shows clearly more. */
function standouts(surface: InspectionSurface, byGap: readonly Spot[][]): Spot[] {
  const p = surface.mesh.positions;
  const kept: Spot[] = [];
  for (const raw of byGap) {
    raw.sort((a, b) => Math.abs(b.height) - Math.abs(a.height) || a.vertex - b.vertex);
    const narrower = kept.length;
    for (const spot of raw) {
      const covered = kept.some((other, i) => {
        if (other.height > 0 !== spot.height > 0) return false;
        const a = 3 * other.vertex;
        const b = 3 * spot.vertex;
        const apart = length3(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
        if (i >= narrower) return apart < Math.max(4, 0.8 * spot.gap + 1.5);
        return apart < 0.6 * other.gap && Math.abs(spot.height) < SPOTS.widerGain * Math.abs(other.height);
      });
      if (!covered) kept.push(spot);
    }
  }
  return kept.sort((a, b) => Math.abs(b.height) - Math.abs(a.height) || a.vertex - b.vertex);
}
