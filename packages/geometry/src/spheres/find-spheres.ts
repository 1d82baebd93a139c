import type { Mesh } from '../mesh/mesh.js';
import { fitSphere } from './fit-sphere.js';
import { symmetricEigen } from '../numerics/symmetric-eigen.js';
import type { SurfacePatches } from '../mesh/surface-patches.js';
import { CellNumbers, surfacePatches } from '../mesh/surface-patches.js';
import { distance } from '../numerics/vectors.js';

/** A ball in a scanned scene: where it is, and which of the triangles lie on it. Good to about a hundredth of its radius. */
export interface FoundSphere {
  readonly centre: Float64Array;
  readonly radius: number;
  /** Numbers of the triangles taken to lie on it, well away from what touches it. */
  readonly triangles: Uint32Array;
  /** Area of its surface in the scene over that of a whole sphere, roughly. */
  readonly seen: number;
  /** False where its triangles face inwards. */
  readonly outward: boolean;
}

export const FIND_SPHERES = {
  /** Edge of the patches that the surface is seen in, over the radius. */
  patch: 1 / 7,
  /** Edge of the cells that votes for centres are counted in, over the radius. */
  ballot: 0.2,
  /** Votes that make a candidate, as a share of a whole sphere's. A plane gives 0.03, a quarter round 0.08. */
  leastVotes: 0.05,
  candidates: 40,
  /** Rounds of fitting a candidate to the patches within these shares of its radius. */
  narrowing: [0.35, 0.25, 0.15, 0.1, 0.06, 0.04, 0.03, 0.03],
  /** Patches lie on it within this share of its radius, their normals within this cosine of its own. */
  onIt: 0.025,
  facing: Math.cos(0.45),
  /** Of the surface within this share of the radius that faces as the sphere does, so much must lie on it. */
  near: 0.3,
  leastAgreement: 0.5,
  /** Curvature of what lies on it over the sphere's own, least and most, every way. */
  curvature: [0.75, 1.3],
  /** A patch touches something else where more than this share of the surface round it does not lie on the sphere. */
  touching: 0.15,
  /** The least of it that must be in the scene, as a share of the whole. */
  leastSeen: 0.04,
} as const;

export interface SphereSearch {
  /** What is sought, in the mesh's unit. */
  readonly radius: number;
  /** Share of the radius by which a sphere may be larger or smaller and still be one of those. */
  readonly tolerance: number;
  /** Look for spheres whose triangles face inwards. */
  readonly inward?: boolean;
}

/**
 * Balls of about one radius in a scene of anything: every patch of surface votes for the centre that it would have as a
 * piece of such a ball, and where many agree a sphere is fitted and tried. A cylinder, an egg, a socket or a rounded edge
 * votes alike in part, but departs from its sphere smoothly where a ball ends sharply. Largest seen part first.
 */
export function findSpheres(mesh: Mesh, search: SphereSearch): FoundSphere[] {
  if (mesh.triangles.length === 0) return [];
  const patches = facing(surfacePatches(mesh, FIND_SPHERES.patch * search.radius), search.inward === true);
  // A large triangle is one patch; it must not outvote the small ones.
  const most = 2 * (FIND_SPHERES.patch * search.radius) ** 2;
  const weights = patches.areas.map((area) => Math.min(area, most));
  const found: FoundSphere[] = [];
  for (const start of candidates(patches, weights, search.radius)) {
    const near = patchesNear(patches, start, 1.7 * search.radius);
    const ball = settle(patches, near, start, search);
    if (ball === null || found.some((f) => distance(f.centre, ball.centre) < 0.7 * search.radius)) continue;
    const judged = judge(patches, weights, near, ball);
    if (judged === null) continue;
    found.push({ ...ball, seen: judged.seen, triangles: trianglesOf(patches, judged.on), outward: search.inward !== true });
  }
  return found.sort((a, b) => b.seen - a.seen);
}

interface Ball {
  readonly centre: Float64Array;
  readonly radius: number;
}


const facing = (patches: SurfacePatches, inward: boolean): SurfacePatches => (inward ? { ...patches, normals: patches.normals.map((c) => -c) } : patches);

/** Places that many patches would be centred on, most votes first, none nearer than 0.6 radii to a better one. */
function candidates({ count, centres, normals }: SurfacePatches, weights: Float64Array, radius: number): Float64Array[] {
  const cell = FIND_SPHERES.ballot * radius;
  const votes = new Float64Array(3 * count);
  for (let i = 0; i < votes.length; i++) votes[i] = centres[i] - radius * normals[i];
  const ballots = new CellNumbers(count);
  const sums = new Float64Array(4 * count);
  for (let v = 0; v < count; v++) {
    const b = 4 * ballots.numberOf(Math.floor(votes[3 * v] / cell), Math.floor(votes[3 * v + 1] / cell), Math.floor(votes[3 * v + 2] / cell));
    sums[b] += weights[v];
    for (let k = 0; k < 3; k++) sums[b + 1 + k] += weights[v] * votes[3 * v + k];
  }
  const cells = ballots.cells();
  const round = new Float64Array(4 * ballots.count);
  for (let b = 0; b < ballots.count; b++) {
    for (let n = 0; n < 27; n++) {
      const other = ballots.find(cells[3 * b] + (n % 3) - 1, cells[3 * b + 1] + (Math.floor(n / 3) % 3) - 1, cells[3 * b + 2] + Math.floor(n / 9) - 1);
      if (other >= 0) for (let k = 0; k < 4; k++) round[4 * b + k] += sums[4 * other + k];
    }
  }
  const least = FIND_SPHERES.leastVotes * 4 * Math.PI * radius * radius;
  const order = Array.from({ length: ballots.count }, (_, b) => b).filter((b) => round[4 * b] >= least).sort((a, b) => round[4 * b] - round[4 * a]);
  const chosen: Float64Array[] = [];
  for (const b of order) {
    const at = Float64Array.from([1, 2, 3], (k) => round[4 * b + k] / round[4 * b]);
    if (chosen.every((c) => distance(c, at) >= 0.6 * radius) && chosen.push(at) >= FIND_SPHERES.candidates) break;
  }
  return chosen;
}

function patchesNear({ count, centres }: SurfacePatches, at: Float64Array, reach: number): number[] {
  const near: number[] = [];
  for (let v = 0; v < count; v++) {
    const x = centres[3 * v] - at[0];
    const y = centres[3 * v + 1] - at[1];
    const z = centres[3 * v + 2] - at[2];
    if (x * x + y * y + z * z < reach * reach) near.push(v);
  }
  return near;
}

/** Signed distance of a patch from the sphere, and the cosine between the two normals. */
function standing({ centres, normals }: SurfacePatches, v: number, { centre, radius }: Ball): { off: number; cos: number } {
  const d = [0, 1, 2].map((k) => centres[3 * v + k] - centre[k]);
  const length = Math.hypot(d[0], d[1], d[2]) || 1;
  return { off: length - radius, cos: (d[0] * normals[3 * v] + d[1] * normals[3 * v + 1] + d[2] * normals[3 * v + 2]) / length };
}

/** The sphere that the patches round a candidate settle on; null where it leaves the tolerance or they fix none. */
function settle(patches: SurfacePatches, near: readonly number[], start: Float64Array, { radius, tolerance }: SphereSearch): Ball | null {
  let ball: Ball = { centre: start, radius };
  for (const share of FIND_SPHERES.narrowing) {
    const points: number[] = [];
    for (const v of near) {
      const { off, cos } = standing(patches, v, ball);
      if (Math.abs(off) < share * radius && cos > FIND_SPHERES.facing) for (let k = 0; k < 3; k++) points.push(patches.centres[3 * v + k]);
    }
    const fit = fitSphere(Float64Array.from(points));
    if (fit === null || Math.abs(fit.radius - radius) > 2 * tolerance * radius || distance(fit.centre, start) > radius) return null;
    ball = fit;
  }
  return Math.abs(ball.radius - radius) <= tolerance * radius ? { centre: ball.centre, radius: ball.radius } : null;
}

/** The patches that lie on the ball and touch nothing else; null where this is no ball, or hardly any of one. */
function judge(patches: SurfacePatches, weights: Float64Array, near: readonly number[], ball: Ball): { on: number[]; seen: number } | null {
  const { onIt, facing: facingIt, near: nearIt, leastAgreement, leastSeen, touching } = FIND_SPHERES;
  const lies = new Map<number, boolean>();
  let all = 0;
  let on = 0;
  for (const v of near) {
    const { off, cos } = standing(patches, v, ball);
    const agrees = Math.abs(off) < onIt * ball.radius && cos > facingIt;
    lies.set(v, agrees);
    if (cos <= facingIt || Math.abs(off) >= nearIt * ball.radius) continue;
    all += weights[v];
    if (agrees) on += weights[v];
  }
  const seen = on / (4 * Math.PI * ball.radius * ball.radius);
  if (on < leastAgreement * all || seen < leastSeen || !curvedAlike(patches, new Set(near.filter((v) => lies.get(v) === true)), ball)) return null;
  const { cells } = patches;
  const clear = (v: number): boolean => {
    let round = 0;
    let foreign = 0;
    for (let n = 0; n < 27; n++) {
      const other = patches.at(cells[3 * v] + (n % 3) - 1, cells[3 * v + 1] + (Math.floor(n / 3) % 3) - 1, cells[3 * v + 2] + Math.floor(n / 9) - 1);
      if (other < 0) continue;
      round += weights[other];
      if (lies.get(other) !== true) foreign += weights[other];
    }
    return foreign <= touching * round;
  };
  return { on: near.filter((v) => lies.get(v) === true && clear(v)), seen };
}

/**
 * Whether normals turn from patch to patch as those of a sphere do: between patches that lie near each other, the slope of
 * the normal against the direction from the centre is 1 every way on a sphere, 0 along a cylinder, 0 on a plane.
 */
function curvedAlike({ centres, normals, cells, at }: SurfacePatches, on: ReadonlySet<number>, { centre }: Ball): boolean {
  const turned = new Float64Array(9);
  const spread = new Float64Array(9);
  const direction = (v: number): number[] => {
    const d = [0, 1, 2].map((k) => centres[3 * v + k] - centre[k]);
    return d.map((c) => c / Math.hypot(d[0], d[1], d[2]));
  };
  for (const v of on) {
    const d = direction(v);
    for (let n = 63; n < 125; n++) {
      const other = at(cells[3 * v] + (n % 5) - 2, cells[3 * v + 1] + (Math.floor(n / 5) % 5) - 2, cells[3 * v + 2] + Math.floor(n / 25) - 2);
      if (!on.has(other)) continue;
      const e = direction(other);
      for (let i = 0; i < 9; i++) {
        const r = Math.floor(i / 3);
        const c = i % 3;
        spread[i] += (e[r] - d[r]) * (e[c] - d[c]);
        turned[i] += (normals[3 * other + r] - normals[3 * v + r]) * (e[c] - d[c]);
      }
    }
  }
  const { values, vectors } = symmetricEigen(spread);
  return vectors.every((axis, n) => {
    let sum = 0;
    for (let i = 0; i < 9; i++) sum += axis[Math.floor(i / 3)] * turned[i] * axis[i % 3];
    const slope = sum / values[n];
    return slope > FIND_SPHERES.curvature[0] && slope < FIND_SPHERES.curvature[1];
  });
}

function trianglesOf({ count, patchOf }: SurfacePatches, patches: readonly number[]): Uint32Array {
  const wanted = new Uint8Array(count);
  for (const v of patches) wanted[v] = 1;
  const out: number[] = [];
  for (let t = 0; t < patchOf.length; t++) if (wanted[patchOf[t]] === 1) out.push(t);
  return Uint32Array.from(out);
}
