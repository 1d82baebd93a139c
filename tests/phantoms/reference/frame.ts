import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compose, frameTransform, identity, invertRigid, transformMesh, type Transform } from '@cast-to-last/geometry/numerics/transform';
import { medialSign, type Side } from '@cast-to-last/foot/side';
import type { Field } from '../surface/implicit.js';
import { cut } from './cut.js';
import { outermost } from './outermost.js';
import { restPlane } from './rest-plane.js';

type Triple = [number, number, number];

/** The points that hold the frame, in the frame they were found in. */
export interface FrameBasis {
  readonly footLength: number;
  readonly heelX: number;
  readonly heelCentre: Triple;
  readonly medialBall: Triple;
  readonly lateralBall: Triple;
  readonly heelWidth: number;
}

/** Every point of the surface between two heights x, and where its edges cross those heights, tried for the greatest `score`. */
function extremeBetween(mesh: Mesh, from: number, to: number, score: (p: ArrayLike<number>) => number): Triple {
  let best: Triple = [NaN, NaN, NaN];
  let most = -Infinity;
  const take = (p: ArrayLike<number>): void => {
    const s = score(p);
    if (s > most) {
      most = s;
      best = [p[0], p[1], p[2]];
    }
  };
  const p = mesh.positions;
  for (let i = 0; i < p.length; i += 3) if (p[i] >= from && p[i] <= to) take(p.subarray(i, i + 3));
  for (const x of [from, to]) {
    const { segments } = cut(mesh, [1, 0, 0], x);
    for (let i = 0; i < segments.length; i += 3) take(segments.subarray(i, i + 3));
  }
  return best;
}

/**
 * Finds the points that the frame rests on, for a mesh that already stands nearly in the foot frame. With `field`, whose
 * zero set is the exact surface in the mesh's coordinates, the ball points are sought on that: where the outline is nearly
 * straight the outermost vertex of a mesh may lie millimetres along from the outermost point.
 */
export function frameBasis(mesh: Mesh, side: Side, field?: Field): FrameBasis {
  const sign = medialSign(side);
  const p = mesh.positions;
  let toe = -Infinity;
  for (let i = 0; i < p.length; i += 3) if (p[i] > toe) toe = p[i];
  // The rearmost point of the heel, not of a calf that leans over it: below 0.3 of the length.
  let heelX = Infinity;
  let whole = Infinity;
  for (let i = 0; i < p.length; i += 3) whole = Math.min(whole, p[i]);
  for (let i = 0; i < p.length; i += 3) if (p[i + 2] < 0.3 * (toe - whole) && p[i] < heelX) heelX = p[i];
  const footLength = toe - heelX;
  const at = (share: number): number => heelX + share * footLength;
  const { segments } = cut(mesh, [1, 0, 0], at(0.16));
  const limit = 0.2 * footLength;
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < segments.length; i += 6) {
    const [y0, z0, y1, z1] = [segments[i + 1], segments[i + 2], segments[i + 4], segments[i + 5]];
    const ends: number[] = [];
    if (z0 <= limit) ends.push(y0);
    if (z1 <= limit) ends.push(y1);
    if (z0 <= limit !== z1 <= limit) ends.push(y0 + ((limit - z0) / (z1 - z0)) * (y1 - y0));
    for (const y of ends) {
      low = Math.min(low, y);
      high = Math.max(high, y);
    }
  }
  const medial = extremeBetween(mesh, at(0.62), at(0.82), (q) => sign * q[1]);
  const lateral = extremeBetween(mesh, at(0.52), at(0.74), (q) => -sign * q[1]);
  return {
    footLength,
    heelX,
    heelCentre: [at(0.16), (low + high) / 2, 0],
    heelWidth: high - low,
    medialBall: field ? outermost(field, medial, sign, at(0.62), at(0.82)) : medial,
    lateralBall: field ? outermost(field, lateral, sign === 1 ? -1 : 1, at(0.52), at(0.74)) : lateral,
  };
}

/**
 * The foot frame of a clean surface, by repetition until no entry of the rotation changes by more than 1e-9 (or 60 rounds).
 * `mesh` must stand within about 30° of the foot frame, heel seat and ball down, toes to +X. `field` as in frameBasis. Gives
 * the map from the mesh's coordinates to the foot frame.
 */
export function referenceFrame(mesh: Mesh, side: Side, field?: Field): Transform {
  let total = identity();
  for (let round = 0; round < 60; round++) {
    const here = transformMesh(total, mesh);
    const basis = frameBasis(here, side, field && seenFrom(field, total));
    const ball = [0, 1, 2].map((k) => (basis.medialBall[k] + basis.lateralBall[k]) / 2);
    const plane = restPlane(here.positions, (ball[0] + basis.heelCentre[0]) / 2, (ball[1] + basis.heelCentre[1]) / 2);
    const up = unit([-plane.slopeX, -plane.slopeY, 1]);
    const onPlane = (q: readonly number[]): Triple => {
      const above = dot(up, q) - up[2] * plane.height;
      return [q[0] - above * up[0], q[1] - above * up[1], q[2] - above * up[2]];
    };
    const heel = onPlane(basis.heelCentre);
    const front = onPlane(ball);
    const x = unit([front[0] - heel[0], front[1] - heel[1], front[2] - heel[2]]);
    const y: Triple = [up[1] * x[2] - up[2] * x[1], up[2] * x[0] - up[0] * x[2], up[0] * x[1] - up[1] * x[0]];
    let rear = Infinity;
    const p = here.positions;
    for (let i = 0; i < p.length; i += 3) {
      const q = [p[i], p[i + 1], p[i + 2]];
      if (dot(up, q) - up[2] * plane.height < 0.3 * basis.footLength) rear = Math.min(rear, dot(x, q) - dot(x, heel));
    }
    const step = frameTransform(x, y, up, [heel[0] + rear * x[0], heel[1] + rear * x[1], heel[2] + rear * x[2]]);
    const nextTotal = compose(step, total);
    let change = 0;
    for (const i of [0, 1, 2, 4, 5, 6, 8, 9, 10]) change = Math.max(change, Math.abs(nextTotal[i] - total[i]));
    total = nextTotal;
    if (round > 0 && change < 1e-9) break;
  }
  return total;
}

/** The field of the same surface after it was mapped by the rigid `m`. */
export function seenFrom(field: Field, m: Transform): Field {
  const back = invertRigid(m);
  return (x, y, z) => field(
    back[0] * x + back[1] * y + back[2] * z + back[3],
    back[4] * x + back[5] * y + back[6] * z + back[7],
    back[8] * x + back[9] * y + back[10] * z + back[11],
  );
}

const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (a: Triple): Triple => {
  const l = Math.hypot(...a);
  return [a[0] / l, a[1] / l, a[2] / l];
};
