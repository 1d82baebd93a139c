import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import { nearestVertex } from './nearest-vertex.js';
import { nearOnSurface } from './near-on-surface.js';

export const RIDGES = {
  /** A ridge starts from a crest steadily at least this high and runs on while it is at least this high, mm … */
  start: 0.14,
  runOn: 0.07,
  /** … and at least this many times the surface's roughness. */
  startNoise: 1.9,
  runOnNoise: 0.95,
  /** Turn of direction from one vertex to the next, as a cosine. */
  straight: 0.75,
  /** A crest may be broken off over this length, and go on this far beside its direction, mm. */
  broken: 8,
  besides: 1.8,
  leastLength: 14,
  /**
   * A raised line that stands alone is one from this length on, if it is this high, mm: of 34 of 7 to 14 mm on 120 generated
   * casts of the tuning range and 62 of two other generators 23 lay on planted ridges and seams, and of 15 this high 14.
   */
  shortest: 7,
  highShort: 0.45,
  /**
   * One of which more than this share lies ahead of the body, before the toes part, is one from this height on, mm: of 16
   * that are 0.45 mm high there on 100 generated casts of the tuning range seven lay on planted ridges, of the four over 0.75 all.
   */
  aheadShare: 0.3,
  highAhead: 0.75,
  /** Length over width, and the widest crest of a ridge, mm: where crests join to a net, each is followed into the next. */
  leastSlender: 2.5,
  widest: 12,
  /** A raised line counts this many times as much as a hollow one: a bandage's edge is raised, and hollow beside. */
  raised: 1.4,
  /** Of ridges side by side length counts up to this, mm. */
  countedLength: 30,
  /** How far beside a mark its own flanks may look like ridges, mm, and the share of a ridge there that makes it such a shadow. */
  shadow: 11,
  shadowShare: 0.75,
  /** A raised line is clearly longer than a hollow from this many times its length on. */
  longer: 1.5,
} as const;

/** A drawn-out height or hollow. */
export interface Ridge {
  readonly vertices: Uint32Array;
  /** Signed extreme height, mm. */
  readonly height: number;
  readonly length: number;
  readonly width: number;
  readonly area: number;
  readonly centre: readonly [number, number, number];
  readonly centreVertex: number;
}

/** Whether a line is a ridge only where it is high and stands alone. */
const isShort = ({ length }: Ridge): boolean => length < RIDGES.leastLength;

/** Whether a line lies ahead of the body by more than a small part, on the roots of the toes. */
export const isAhead = ({ vertices }: Ridge, isBody: (vertex: number) => boolean): boolean =>
  vertices.filter((v) => !isBody(v)).length > RIDGES.aheadShare * vertices.length;

/** Height from which a crest starts a ridge, mm. */
export const leastCrest = (roughness: number): number => Math.max(RIDGES.start, RIDGES.startNoise * roughness);

/** Crests joined to lines. */
export function linkRidges(surface: InspectionSurface, crests: Crests, roughness: number, allowed: (vertex: number) => boolean): Ridge[] {
  const { steady: height, direction } = crests;
  const least = leastCrest(roughness);
  const runOn = Math.max(RIDGES.runOn, RIDGES.runOnNoise * roughness);
  const seen = new Uint8Array(height.length);
  const order = [...height.keys()].filter((v) => Math.abs(height[v]) >= least && allowed(v));
  order.sort((a, b) => Math.abs(height[b]) - Math.abs(height[a]) || a - b);
  const ridges: Ridge[] = [];
  for (const start of order) {
    if (seen[start] === 1) continue;
    const line = [start];
    seen[start] = 1;
    for (let head = 0; head < line.length; head++) {
      const v = line[head];
      for (const w of onward(surface, v, direction)) {
        if (seen[w] === 1 || Math.abs(height[w]) < runOn || height[w] > 0 !== height[start] > 0 || !allowed(w)) continue;
        const turn = direction[3 * v] * direction[3 * w] + direction[3 * v + 1] * direction[3 * w + 1] + direction[3 * v + 2] * direction[3 * w + 2];
        if (Math.abs(turn) < RIDGES.straight) continue;
        seen[w] = 1;
        line.push(w);
      }
    }
    const ridge = describeRidge(surface, crests, Uint32Array.from(line));
    const isLongEnough = !isShort(ridge) || (ridge.length >= RIDGES.shortest && ridge.height >= RIDGES.highShort);
    if (isLongEnough && ridge.length >= RIDGES.leastSlender * ridge.width && ridge.width <= RIDGES.widest) ridges.push(ridge);
  }
  return ridges;
}

/**
 * Of ridges side by side only the strongest stays: a ridge's own flanks stand off the other way beside it. Ridges that
 * mostly lie on or beside `taken` ground go too, short ones where any of them does.
 */
export function dropShadows(surface: InspectionSurface, ridges: readonly Ridge[], taken: Uint32Array): Ridge[] {
  const shaded = new Uint8Array(surface.areas.length);
  const shade = (vertices: Uint32Array): void => {
    for (const v of nearOnSurface(surface, vertices, RIDGES.shadow).reached) shaded[v] = 1;
  };
  if (taken.length > 0) shade(taken);
  const kept: Ridge[] = [];
  // Height counts twice: a groove's shoulders run on along it as far as itself, and lower; and length only so far, for a line in pieces has hollows beside it that are whole.
  const weight = ({ height, length }: Ridge): number => (height > 0 ? RIDGES.raised : -1) * height * Math.abs(height) * Math.min(length, RIDGES.countedLength);
  for (const ridge of [...ridges].sort((a, b) => Number(isShort(a)) - Number(isShort(b)) || weight(b) - weight(a))) {
    let inShadow = 0;
    for (const v of ridge.vertices) inShadow += shaded[v];
    if (inShadow > (isShort(ridge) ? 0 : RIDGES.shadowShare * ridge.vertices.length)) continue;
    kept.push(ridge);
    shade(ridge.vertices);
  }
  return kept;
}

/** Whether a sunken line is only the hollow beside a raised one, which is higher and clearly longer and runs along most of it. */
export function isHollowBeside(surface: InspectionSurface, line: Ridge, ridges: readonly Ridge[]): boolean {
  if (line.height > 0) return false;
  return ridges.some(({ vertices, height, length }) => {
    if (height < -line.height || length < RIDGES.longer * line.length) return false;
    const beside = new Set(nearOnSurface(surface, vertices, RIDGES.shadow).reached);
    return line.vertices.filter((v) => beside.has(v)).length > RIDGES.shadowShare * line.vertices.length;
  });
}

/** Vertices round one: two rings of them, and in a strip along the crest as far as it may be broken off. */
function onward(surface: InspectionSurface, vertex: number, direction: Float64Array): number[] {
  const p = surface.mesh.positions;
  const { offsets, items } = surface.neighbours;
  const reached = [vertex];
  const seen = new Set(reached);
  const rings = [0];
  for (let head = 0; head < reached.length; head++) {
    for (let i = offsets[reached[head]]; i < offsets[reached[head] + 1]; i++) {
      const w = items[i];
      if (seen.has(w)) continue;
      seen.add(w);
      const x = p[3 * w] - p[3 * vertex];
      const y = p[3 * w + 1] - p[3 * vertex + 1];
      const z = p[3 * w + 2] - p[3 * vertex + 2];
      const along = x * direction[3 * vertex] + y * direction[3 * vertex + 1] + z * direction[3 * vertex + 2];
      const across = x * x + y * y + z * z - along * along;
      if (rings[head] >= 2 && (Math.abs(along) > RIDGES.broken || across > RIDGES.besides ** 2)) continue;
      rings.push(rings[head] + 1);
      reached.push(w);
    }
  }
  return reached;
}

/** Height, length, width and place of a set of crest vertices. */
export function describeRidge(surface: InspectionSurface, crests: Crests, vertices: Uint32Array): Ridge {
  const p = surface.mesh.positions;
  let area = 0;
  let extreme = vertices[0];
  const centre: [number, number, number] = [0, 0, 0];
  for (const v of vertices) {
    area += surface.areas[v];
    if (Math.abs(crests.height[v]) > Math.abs(crests.height[extreme])) extreme = v;
    for (let k = 0; k < 3; k++) centre[k] += p[3 * v + k] / vertices.length;
  }
  const far = (from: readonly number[]): number => {
    let best = vertices[0];
    let most = -1;
    for (const v of vertices) {
      const d = Math.hypot(p[3 * v] - from[0], p[3 * v + 1] - from[1], p[3 * v + 2] - from[2]);
      if (d > most) {
        most = d;
        best = v;
      }
    }
    return best;
  };
  const at = (v: number): [number, number, number] => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
  const a = far(centre);
  const b = far(at(a));
  const chord = [0, 1, 2].map((k) => p[3 * b + k] - p[3 * a + k]);
  const length = lengthAlong(p, vertices, a, chord);
  const nearest = nearestVertex(surface.mesh, vertices, centre).vertex;
  return {
    vertices,
    height: crests.height[extreme],
    length,
    width: area / Math.max(length, 1),
    area,
    // The place reported lies on the ridge, even where it bends round its own middle.
    centre: at(nearest),
    centreVertex: nearest,
  };
}

/** Length of the line through the means of slices across the chord. */
function lengthAlong(p: Float64Array, vertices: Uint32Array, from: number, chord: readonly number[]): number {
  const span = Math.hypot(chord[0], chord[1], chord[2]);
  if (span === 0) return 0;
  const slices = Math.max(1, Math.round(span / 6));
  const sums = new Float64Array(4 * (slices + 1));
  for (const v of vertices) {
    let t = 0;
    for (let k = 0; k < 3; k++) t += ((p[3 * v + k] - p[3 * from + k]) * chord[k]) / (span * span);
    const s = 4 * Math.min(slices, Math.max(0, Math.round(t * slices)));
    for (let k = 0; k < 3; k++) sums[s + k] += p[3 * v + k];
    sums[s + 3]++;
  }
  let length = 0;
  let last: number[] | null = null;
  for (let s = 0; s < sums.length; s += 4) {
    if (sums[s + 3] === 0) continue;
    const point = [0, 1, 2].map((k) => sums[s + k] / sums[s + 3]);
    if (last !== null) length += Math.hypot(point[0] - last[0], point[1] - last[1], point[2] - last[2]);
    last = point;
  }
  return Math.max(length, span);
}
