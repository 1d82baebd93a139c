import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { fitSplinePatch, newPatchFoot, projectToPatch } from '@cast-to-last/geometry/splines/spline-patch';
import { DRAWN, drawnFlat } from './drawn-flat.js';
import type { Surroundings } from './fair-surface.js';
import { FAIR, FairSurface } from './fair-surface.js';
import type { InspectionSurface } from './inspection-surface.js';
import { learnedGround, steerByLearned } from './learned-ground.js';
import { nearOnSurface } from './near-on-surface.js';
import { apart, spreadAlong } from './spread-along.js';

export const MEND = {
  /** How far beyond a mark's visible edge the surface is replaced whole, mm. */
  margin: 3.5,
  /** Width of the band outside that in which fair surface and scan flow into each other, mm. */
  blend: 4,
  /** A window of a long mark covers what lies within this distance of its centre, mm. */
  window: 15,
  /** A mark that reaches no farther from its centre than this is mended in one window, mm. */
  single: 34,
  /**
   * Share of what a window looks at that must be sound surface, or the fair surface would be invented: it looks farther, each
   * time by such a factor and at most so far, mm. Where that does not help, nothing is moved.
   */
  leastSound: 0.1,
  farther: 1.3,
  farthest: 100,
  /** What the learned heights leave of a mark steers the fair surface by this share of what sound surface does. */
  learnedShare: 0.002,
} as const;

/** One mark to be replaced: its coarse vertices, and the one nearest its centre. */
export interface Patch {
  readonly vertices: Uint32Array;
  readonly centre: number;
  /** Margin beyond the vertices, mm. */
  readonly margin: number;
  /** Whether what the learned heights leave of the mark steers the surface a little, too: they know dents and bumps, not lines. */
  readonly isLearned?: boolean;
  /** Of a patch that may move nothing but surface which was never scanned; absent where it may move all. */
  readonly unscanned?: Unscanned;
}

export interface Unscanned {
  /** One byte a vertex of the cast: 1 where it was not scanned. */
  readonly at: Uint8Array;
  /** A fair surface that lies farther than this from what is there says less than that, and nothing is moved, mm. */
  readonly farthest: number;
}

export interface Mended {
  readonly mesh: Mesh;
  readonly moved: Uint8Array;
  /** Patches that were left as they are, because nothing sound near them says what should be there. */
  readonly groundless: readonly Patch[];
}

/**
 * Replaces patches of the cast by fair surfaces that the sound surface round them asks for. Inside a patch and its margin
 * the fair surface stands alone; in a band outside it flows into the scan with position and tangent; every other vertex
 * keeps its coordinates bit for bit.
 *
 * @param masked coarse vertices (one byte each) that steer nothing: all marks, those that are kept too
 * @param locked coarse vertices whose surface is not to be touched
 */
export function mend(cast: Mesh, surface: InspectionSurface, patches: readonly Patch[], masked: Uint8Array, locked: Uint8Array): Mended {
  const positions = cast.positions.slice();
  const moved = new Uint8Array(vertexCount(cast));
  const members = cellMembers(surface);
  const around = new FairSurface(surface);
  // Each patch starts from what the ones before it left, so that where two overlap the surface is not moved twice.
  const mesh = { positions, triangles: cast.triangles };
  const groundless = patches.filter((patch) => !mendOne(positions, moved, mesh, surface, patch, masked, locked, members, around));
  return { mesh, moved, groundless };
}

interface Members {
  readonly offsets: Uint32Array;
  readonly items: Uint32Array;
}

/** The cast's vertices in the cell of each coarse vertex. */
function cellMembers(surface: InspectionSurface): Members {
  const offsets = new Uint32Array(surface.areas.length + 1);
  for (const c of surface.cellOf) offsets[c + 1]++;
  for (let c = 1; c < offsets.length; c++) offsets[c] += offsets[c - 1];
  const items = new Uint32Array(surface.cellOf.length);
  const cursor = offsets.slice();
  surface.cellOf.forEach((c, v) => (items[cursor[c]++] = v));
  return { offsets, items };
}

/** False where none of the patch's windows has sound ground to go by. */
function mendOne(
  positions: Float64Array,
  moved: Uint8Array,
  cast: Mesh,
  surface: InspectionSurface,
  patch: Patch,
  masked: Uint8Array,
  locked: Uint8Array,
  members: Members,
  around: FairSurface,
): boolean {
  const { reached, distance } = nearOnSurface(surface, patch.vertices, patch.margin + Math.max(MEND.blend + 2, DRAWN.compared));
  const core = new Set<number>();
  const beside = new Set<number>();
  reached.forEach((c, i) => {
    if (distance[i] <= patch.margin) core.add(c);
    else if (distance[i] <= patch.margin + DRAWN.compared) beside.add(c);
  });
  // Sums over the windows of weight × displacement, by fine vertex.
  const sums = new Map<number, Float64Array>();
  const learned = patch.isLearned === true ? learnedGround(patch.vertices, core, masked) : null;
  for (const centre of windowCentres(surface, patch)) addWindow(sums, cast, surface, centre, core, beside, masked, members, around, learned);
  const { unscanned } = patch;
  if (unscanned !== undefined) {
    for (const v of sums.keys()) if (unscanned.at[v] === 0) sums.delete(v);
    for (const [x, y, z, share] of sums.values()) if (length3(x, y, z) > unscanned.farthest * share) return true;
  }
  const weightOf = blendWeights(cast, surface, reached, distance, patch.margin, members);
  for (const [v, sum] of sums) {
    const weight = weightOf.get(v) ?? 0;
    if (!(weight > 0) || sum[3] === 0 || locked[surface.cellOf[v]] === 1) continue;
    for (let k = 0; k < 3; k++) positions[3 * v + k] += (weight * sum[k]) / sum[3];
    if (unscanned === undefined) moved[v] = 1;
  }
  return sums.size > 0;
}

/** One centre for a small mark; for a long one, centres spread so that every coarse vertex lies within a window. */
function windowCentres(surface: InspectionSurface, patch: Patch): number[] {
  let farthest = 0;
  for (const v of patch.vertices) farthest = Math.max(farthest, apart(surface.mesh, v, patch.centre));
  if (farthest + patch.margin <= MEND.single) return [patch.centre];
  return spreadAlong(surface, patch.vertices, 0.55 * MEND.window, patch.centre);
}

function addWindow(
  sums: Map<number, Float64Array>,
  cast: Mesh,
  surface: InspectionSurface,
  centre: number,
  core: ReadonlySet<number>,
  beside: ReadonlySet<number>,
  masked: Uint8Array,
  members: Members,
  around: FairSurface,
  learned: ReadonlySet<number> | null,
): void {
  const p = surface.mesh.positions;
  let farthest = 0;
  for (const v of core) farthest = Math.max(farthest, Math.hypot(p[3 * v] - p[3 * centre], p[3 * v + 1] - p[3 * centre + 1], p[3 * v + 2] - p[3 * centre + 2]));
  const whole = farthest <= MEND.single;
  const cover = (whole ? farthest : MEND.window) + MEND.blend + 1;
  const half = cover + FAIR.ring - MEND.blend;
  const ground = soundGround(surface, centre, half, core, masked, around);
  if (ground === null) return;
  const { vertices, points, distance, weights } = ground;
  const flat = drawnFlat({ flat: ground.flat, points, weights, beside: Uint8Array.from(vertices, (c) => (beside.has(c) ? 1 : 0)), half: ground.half });
  if (learned !== null) steerByLearned(ground, surface, learned, MEND.learnedShare);
  const fair = fitSplinePatch(flat, points, weights, { half: ground.half, ...FAIR });
  const foot = newPatchFoot();
  const fine = cast.positions;
  for (let i = 0; i < vertices.length; i++) {
    const r = distance[i] / cover;
    if (r >= 1) continue;
    const share = whole ? 1 : (1 - r * r) ** 2;
    const c = vertices[i];
    for (let j = members.offsets[c]; j < members.offsets[c + 1]; j++) {
      const v = members.items[j];
      foot.u = flat[2 * i];
      foot.v = flat[2 * i + 1];
      projectToPatch(fair, fine[3 * v], fine[3 * v + 1], fine[3 * v + 2], foot, 3);
      let sum = sums.get(v);
      if (sum === undefined) sums.set(v, (sum = new Float64Array(4)));
      sum[0] += share * (foot.x - fine[3 * v]);
      sum[1] += share * (foot.y - fine[3 * v + 1]);
      sum[2] += share * (foot.z - fine[3 * v + 2]);
      sum[3] += share;
    }
  }
}

/** What a window looks at, with the areas of its sound surface as weights, 0 elsewhere. */
interface SoundGround extends Surroundings {
  readonly half: number;
  readonly weights: Float64Array;
}

/** What lies within `half` mm of a window's centre, or farther, where enough of it is sound; null where too little is. */
function soundGround(
  surface: InspectionSurface, centre: number, half: number, core: ReadonlySet<number>, masked: Uint8Array, around: FairSurface,
): SoundGround | null {
  for (; half <= MEND.farthest; half *= MEND.farther) {
    const seen = around.lookAround(centre, 1.15 * half);
    const weights = new Float64Array(seen.vertices.length);
    let sound = 0;
    let all = 0;
    seen.vertices.forEach((c, i) => {
      if (seen.distance[i] > half) return;
      all += surface.areas[c];
      if (core.has(c) || masked[c] === 1) return;
      weights[i] = surface.areas[c];
      sound += weights[i];
    });
    if (sound >= MEND.leastSound * all) return { ...seen, half, weights };
  }
  return null;
}

/** 1 within the margin, falling smoothly to 0 at the band's outer edge; by fine vertex, from the distances of its cell and its neighbours. */
function blendWeights(
  cast: Mesh,
  surface: InspectionSurface,
  reached: Uint32Array,
  distance: Float64Array,
  margin: number,
  members: Members,
): Map<number, number> {
  const away = new Map<number, number>();
  reached.forEach((c, i) => away.set(c, distance[i]));
  const weights = new Map<number, number>();
  const p = surface.mesh.positions;
  const { offsets, items } = surface.neighbours;
  for (const c of reached) {
    for (let j = members.offsets[c]; j < members.offsets[c + 1]; j++) {
      const v = members.items[j];
      // The distance between coarse vertices, weighted by nearness, so that it runs on smoothly from cell to cell.
      let sum = 0;
      let total = 0;
      const add = (d: number): void => {
        const x = cast.positions[3 * v] - p[3 * d];
        const y = cast.positions[3 * v + 1] - p[3 * d + 1];
        const z = cast.positions[3 * v + 2] - p[3 * d + 2];
        const near = Math.max(0, 1 - (x * x + y * y + z * z) / (2.2 * surface.spacing) ** 2) ** 2;
        sum += near * (away.get(d) ?? margin + MEND.blend);
        total += near;
      };
      add(c);
      for (let k = offsets[c]; k < offsets[c + 1]; k++) add(items[k]);
      const t = Math.min(1, Math.max(0, ((total === 0 ? (away.get(c) ?? 0) : sum / total) - margin) / MEND.blend));
      const weight = 1 - t * t * t * (t * (6 * t - 15) + 10);
      if (weight > 0) weights.set(v, weight);
    }
  }
  return weights;
}
