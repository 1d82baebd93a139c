import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import type { Ridge } from './ridges.js';
import { describeRidge } from './ridges.js';

export const SEAM = {
  /** The corridor in which a cast is cut open: from the toe base to the crook of the ankle, shares of foot length. */
  from: 0.3,
  to: 0.8,
  /** Half the corridor's width, mm. */
  halfWidth: 28,
  /** Part of its pieces' direction that must run along the foot. */
  lengthwise: 0.7,
  /** Share of the way from toe base to crook that its pieces must cover together. */
  covered: 0.4,
} as const;

/**
 * The seam among the ridges: pieces that lie along the top of the foot between toe base and crook of the ankle and
 * together cover enough of the way, joined through the gaps between them along the strongest crests.
 */
export function findSeam(surface: InspectionSurface, crests: Crests, ridges: readonly Ridge[], landmarks: Landmarks): { seam: Ridge | null; rest: Ridge[] } {
  const pieces = ridges.filter((ridge) => isOnSeamLine(surface, ridge, landmarks));
  const way = 0.3 * landmarks.footLength;
  const covered = pieces.reduce((sum, piece) => sum + piece.length, 0);
  if (covered < SEAM.covered * way) return { seam: null, rest: [...ridges] };
  const vertices = new Set<number>();
  for (const piece of pieces) for (const v of piece.vertices) vertices.add(v);
  for (const v of joinPieces(surface, crests, pieces)) vertices.add(v);
  const seam = describeRidge(surface, crests, Uint32Array.from(vertices));
  return { seam, rest: ridges.filter((ridge) => !pieces.includes(ridge)) };
}

function isOnSeamLine(surface: InspectionSurface, ridge: Ridge, landmarks: Landmarks): boolean {
  const fl = landmarks.footLength;
  const middle = landmarks.instep?.[1] ?? 0;
  const [x, y] = ridge.centre;
  const up = surface.normals[3 * ridge.centreVertex + 2];
  const forward = surface.normals[3 * ridge.centreVertex];
  // Along the foot means in the plane of x and z: the line climbs with the dorsum.
  const lengthwise = Math.hypot(ridge.direction[0], ridge.direction[2]);
  return x > SEAM.from * fl && x < SEAM.to * fl && Math.abs(y - middle) < SEAM.halfWidth && up + Math.max(0, forward) > 0.55 && lengthwise > SEAM.lengthwise;
}

/** The cheapest path over the surface from the rearmost to the foremost piece; high crests cost little. */
function joinPieces(surface: InspectionSurface, crests: Crests, pieces: readonly Ridge[]): number[] {
  const p = surface.mesh.positions;
  let back = pieces[0].vertices[0];
  let front = back;
  for (const piece of pieces) {
    for (const v of piece.vertices) {
      if (p[3 * v] < p[3 * back]) back = v;
      if (p[3 * v] > p[3 * front]) front = v;
    }
  }
  const cost = new Map<number, number>([[back, 0]]);
  const before = new Map<number, number>();
  const done = new Set<number>();
  const open: [number, number][] = [[0, back]];
  const { offsets, items } = surface.neighbours;
  while (open.length > 0) {
    let least = 0;
    for (let i = 1; i < open.length; i++) if (open[i][0] < open[least][0]) least = i;
    const [spent, v] = open[least];
    open[least] = open[open.length - 1];
    open.pop();
    if (done.has(v)) continue;
    done.add(v);
    if (v === front) break;
    for (let i = offsets[v]; i < offsets[v + 1]; i++) {
      const w = items[i];
      const step = Math.hypot(p[3 * v] - p[3 * w], p[3 * v + 1] - p[3 * w + 1], p[3 * v + 2] - p[3 * w + 2]);
      const total = spent + step / (0.06 + Math.min(0.6, Math.abs(crests.height[w])));
      if (done.has(w) || total >= (cost.get(w) ?? Infinity)) continue;
      cost.set(w, total);
      before.set(w, v);
      open.push([total, w]);
    }
  }
  const path: number[] = [];
  for (let v: number | undefined = front; v !== undefined; v = before.get(v)) path.push(v);
  return path;
}
