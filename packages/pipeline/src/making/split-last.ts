import type { Point } from '@cast-to-last/foot/landmarks';
import type { DistanceGrid } from '@cast-to-last/geometry/distance/inner-distance';
import { dot } from '@cast-to-last/geometry/numerics/vectors';
import type { PinRules, SplitRules } from '../rules/making-rules.js';
import type { Bore, Cut, PiecePlan } from './piece.js';
import { along } from './piece.js';

export const RAIL = {
  /** Material that is left round a rail, mm, and the least length of one that is of use. */
  room: 3,
  shortest: 12,
  /** The axis of a rail stands this share of its radius beyond the cut, so that its neck holds the parts together. */
  undercut: 0.5,
  /** Step of the search, mm. */
  step: 1,
} as const;

export interface SplitPlan {
  /** In the order in which they come out of the shoe. */
  readonly pieces: readonly PiecePlan[];
  /** Unit: the way by which the first piece is drawn; null where there is one piece alone. */
  readonly drawn: Point | null;
  readonly warnings: readonly string[];
}

/**
 * The pieces as which the last comes out of the shoe. All cuts are parallel to y. By a plane: the heel part is drawn up along
 * the cut. By a wedge: it is wider at the top, is drawn up first, and leaves the others the room of its width to come forward
 * and back. Rails along the way guide the pieces and hold them sideways: on the first piece, in grooves of the next that
 * are open at the top. The rail of a plane grips behind its groove's edges; those of a wedge cannot.
 *
 * @param box bounds of the last
 */
export function splitLast(field: DistanceGrid, box: Float64Array, split: SplitRules, pins: PinRules): SplitPlan {
  if (split.by === 'none') return { pieces: [{ name: 'last', cuts: [] }], drawn: null, warnings: [] };
  const foot: Point = [box[0] + split.at * (box[3] - box[0]), 0, box[2]];
  const way = leaning(split.leanDeg);
  const warnings: string[] = [];
  const join = (from: Point, lean: number, shift: number, out: 1 | -1): { readonly first: Cut; readonly second: Cut } => {
    const up = leaning(lean);
    const normal: Point = [out * up[2], 0, -out * up[0]];
    const rail = railAlong(field, box, from, up, along([0, 0, 0], normal, shift), pins);
    if (rail === null) warnings.push('A cut is too short or too narrow for a rail; its parts are not held sideways.');
    const offset = dot(normal, from);
    return {
      first: { face: { normal, offset }, pins: rail === null ? [] : [rail.pin], sockets: [] },
      second: { face: { normal: [-normal[0], 0, -normal[2]], offset: -offset }, pins: [], sockets: rail === null ? [] : [rail.socket] },
    };
  };
  if (split.by === 'plane') {
    const { first, second } = join(foot, split.leanDeg, (RAIL.undercut * pins.diameterMm) / 2, 1);
    return { pieces: [{ name: 'heel', cuts: [first] }, { name: 'fore', cuts: [second] }], drawn: way, warnings };
  }
  const half = split.wedgeAngleDeg / 2;
  const toFore = join(along(foot, [1, 0, 0], split.wedgeWidthMm / 2), split.leanDeg + half, 0, 1);
  const toHeel = join(along(foot, [-1, 0, 0], split.wedgeWidthMm / 2), split.leanDeg - half, 0, -1);
  return {
    pieces: [
      { name: 'wedge', cuts: [toFore.first, toHeel.first] },
      { name: 'heel', cuts: [toHeel.second] },
      { name: 'fore', cuts: [toFore.second] },
    ],
    drawn: way,
    warnings,
  };
}

function leaning(deg: number): Point {
  const angle = (deg * Math.PI) / 180;
  return [Math.sin(angle), 0, Math.cos(angle)];
}

/** The rail in the cut through `from` along `up` where it can be longest, open at the top, and the groove for it; null where there is no room. */
function railAlong(field: DistanceGrid, box: Float64Array, from: Point, up: Point, shift: Point, pins: PinRules): { readonly pin: Bore; readonly socket: Bore } | null {
  const radius = pins.diameterMm / 2;
  const need = radius + pins.clearanceMm + RAIL.room;
  const reach = (box[5] - box[2]) / up[2];
  let best = { y: 0, start: 0, length: 0, depth: 0 };
  for (let y = box[1]; y <= box[4]; y += RAIL.step) {
    let start = 0;
    let depth = 0;
    for (let t = 0; t <= reach; t += RAIL.step) {
      const d = field.at(from[0] + shift[0] + t * up[0], y, from[2] + shift[2] + t * up[2]);
      if (d < need) {
        start = t + RAIL.step;
        depth = 0;
        continue;
      }
      depth += d;
      // Of runs as long as each other, the one deepest inside.
      const length = t - start;
      if (length > best.length || (length === best.length && depth > best.depth)) best = { y, start, length, depth };
    }
  }
  if (best.length < RAIL.shortest) return null;
  const origin: Point = [from[0] + shift[0], best.y, from[2] + shift[2]];
  const end = reach + 4 * pins.diameterMm;
  return {
    pin: { origin, axis: up, profile: [[best.start, radius], [end, radius]] },
    socket: { origin, axis: up, profile: [[best.start - pins.clearanceMm, radius + pins.clearanceMm], [end + 1, radius + pins.clearanceMm]] },
  };
}
