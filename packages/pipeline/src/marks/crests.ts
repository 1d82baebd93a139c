import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { askedHeight, evenFilter } from './even-filter.js';
import type { InspectionSurface } from './inspection-surface.js';
import { offTheBlurred } from './off-the-blurred.js';
import { offNeighbours } from './off-neighbours.js';
import { LINES, LineProfiles, STEP } from './line-profiles.js';

export const CRESTS = {
  /** Half-widths of the gap, mm. */
  gaps: [2, 3, 4],
  reach: 5,
  /** Heights below this are no crest, mm. */
  least: 0.12,
  /** Along the crest the surface may stand off by at most this share of its height across. */
  alongShare: 0.4,
  /** A crest stands off the blurred surface, to the same side, by this share of its height; its shadows beside it do not. */
  blurredShare: 0.1,
  /** A crest holds over a strip this long each way and this wide each way, mm, with directions that agree to this cosine. */
  stripLength: 7,
  stripWidth: 1.8,
  agree: 0.8,
} as const;

/** Narrow, drawn-out heights and hollows, vertex by vertex. */
export interface Crests {
  /** Signed height over what the two sides across ask for, mm; 0 where there is no crest. */
  readonly height: Float64Array;
  /** Unit direction of the crest, x, y, z. */
  readonly direction: Float64Array;
  /** Signed height over the surface blurred beyond a ridge's width, mm. */
  readonly offBlurred: Float64Array;
  /** Mean height over the strip along the crest, counting 0 where there is none or its direction differs: noise has no line. */
  readonly steady: Float64Array;
}

/** Where the surface stands off from its two sides across one direction, but runs on along the other. */
export function findCrests(surface: InspectionSurface): Crests {
  const filters = CRESTS.gaps.map((gap) => evenFilter(gap, CRESTS.reach, STEP));
  const profiles = new LineProfiles(surface, filters[filters.length - 1].to * STEP);
  const count = vertexCount(surface.mesh);
  const height = new Float64Array(count);
  const direction = new Float64Array(3 * count);
  const offBlurred = offTheBlurred(surface);
  const along = new Float64Array(3);
  // Height by gap and direction; a gap in which the surface does not run on along says nothing against a narrower one.
  const heights = filters.map(() => new Float64Array(LINES));
  for (let vertex = 0; vertex < count; vertex++) {
    if (surface.unsure[vertex] === 1 || Math.abs(offNeighbours(surface, vertex)) < CRESTS.least / 4) continue;
    profiles.at(vertex);
    for (let line = 0; line < LINES; line++) {
      const steps = profiles.take(line);
      for (let f = 0; f < filters.length; f++) heights[f][line] = filters[f].to > steps ? 0 : -askedHeight(filters[f], profiles.mean);
    }
    let most = 0;
    let across = -1;
    for (const byLine of heights) {
      const line = steepest(byLine);
      const lengthwise = byLine[(line + LINES / 2) % LINES];
      if (Math.abs(byLine[line]) <= Math.abs(most) || Math.abs(lengthwise) > CRESTS.alongShare * Math.abs(byLine[line])) continue;
      most = byLine[line];
      across = line;
    }
    if (Math.abs(most) < CRESTS.least) continue;
    if (offBlurred[vertex] * Math.sign(most) < CRESTS.blurredShare * Math.abs(most)) continue;
    height[vertex] = most;
    profiles.directionOf((across + LINES / 2) % LINES, along);
    direction.set(along, 3 * vertex);
  }
  return { height, direction, offBlurred, steady: alongStrips(surface, height, direction) };
}

/** The direction of the greatest height or hollow. */
function steepest(byLine: Float64Array): number {
  let best = 0;
  for (let line = 1; line < byLine.length; line++) if (Math.abs(byLine[line]) > Math.abs(byLine[best])) best = line;
  return best;
}

function alongStrips(surface: InspectionSurface, height: Float64Array, direction: Float64Array): Float64Array {
  const p = surface.mesh.positions;
  const { offsets, items } = surface.neighbours;
  const steady = new Float64Array(height.length);
  const seenBy = new Int32Array(height.length).fill(-1);
  const reached: number[] = [];
  for (let v = 0; v < height.length; v++) {
    if (height[v] === 0) continue;
    const dx = direction[3 * v];
    const dy = direction[3 * v + 1];
    const dz = direction[3 * v + 2];
    reached.length = 0;
    reached.push(v);
    seenBy[v] = v;
    let sum = 0;
    for (let head = 0; head < reached.length; head++) {
      const w = reached[head];
      const turn = dx * direction[3 * w] + dy * direction[3 * w + 1] + dz * direction[3 * w + 2];
      if (Math.abs(turn) > CRESTS.agree) sum += height[w];
      for (let i = offsets[w]; i < offsets[w + 1]; i++) {
        const q = items[i];
        if (seenBy[q] === v) continue;
        seenBy[q] = v;
        const x = p[3 * q] - p[3 * v];
        const y = p[3 * q + 1] - p[3 * v + 1];
        const z = p[3 * q + 2] - p[3 * v + 2];
        const along = x * dx + y * dy + z * dz;
        const across = x * x + y * y + z * z - along * along;
        if (Math.abs(along) <= CRESTS.stripLength && across <= CRESTS.stripWidth ** 2) reached.push(q);
      }
    }
    steady[v] = sum / reached.length;
  }
  return steady;
}
