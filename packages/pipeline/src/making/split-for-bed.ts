import type { Point } from '@cast-to-last/foot/landmarks';
import type { DistanceGrid } from '@cast-to-last/geometry/distance/inner-distance';
import { crossAxes } from '@cast-to-last/geometry/solids/turned-body';
import type { PinRules } from '../rules/making-rules.js';
import { insidePiece } from './inside-piece.js';
import type { Bore, PiecePlan } from './piece.js';
import { along } from './piece.js';

export const BED_PINS = {
  /** Material that is left round a pin, mm: wanted, and the least. */
  room: [4, 2, 1],
  /** Pins of one cut. */
  count: 2,
  /** Step of the search, mm, and the least distance between pins over their diameter. */
  step: 2,
  apart: 2,
  /** The end of a pin is narrower by this, mm, over as much of its length. */
  chamfer: 0.8,
} as const;

/**
 * A piece cut in two across its longest extent, with round pins across the cut, to be put together for good after printing.
 *
 * @param box bounds of the piece
 * @returns the two halves, and how many pins found room
 */
export function splitForBed(plan: PiecePlan, field: DistanceGrid, box: Float64Array, pins: PinRules): { readonly halves: readonly [PiecePlan, PiecePlan]; readonly pinned: number } {
  const axis = [0, 1, 2].reduce((longest, k) => (box[k + 3] - box[k] > box[longest + 3] - box[longest] ? k : longest), 0);
  const normal: Point = [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0];
  const offset = (box[axis] + box[axis + 3]) / 2;
  const places = placesForPins(plan, field, box, normal, offset, pins);
  const radius = pins.diameterMm / 2;
  const c = Math.min(BED_PINS.chamfer, radius / 2);
  const pin = (origin: Point): Bore => ({ origin, axis: normal, profile: [[-c, radius], [pins.lengthMm - c, radius], [pins.lengthMm, radius - c]] });
  const socket = (origin: Point): Bore => ({ origin, axis: normal, profile: [[-c, radius + pins.clearanceMm], [pins.lengthMm + pins.clearanceMm, radius + pins.clearanceMm]] });
  const behind = { face: { normal, offset }, pins: places.map(pin), sockets: [] };
  const ahead = { face: { normal: along([0, 0, 0], normal, -1), offset: -offset }, pins: [], sockets: places.map(socket) };
  return {
    halves: [{ name: `${plan.name}-1`, cuts: [...plan.cuts, behind] }, { name: `${plan.name}-2`, cuts: [...plan.cuts, ahead] }],
    pinned: places.length,
  };
}

/** Where pins have room on both sides of the cut: the one farthest from the middle, then those farthest from the others. */
function placesForPins(plan: PiecePlan, field: DistanceGrid, box: Float64Array, normal: Point, offset: number, pins: PinRules): Point[] {
  const inside = insidePiece(field, plan);
  const [a, b] = crossAxes(normal);
  const reach = [0, 1, 2].map((k) => Math.max(Math.abs(box[k]), Math.abs(box[k + 3])));
  const extent = Math.hypot(...reach);
  const candidates: { readonly at: Point; readonly room: number }[] = [];
  for (let i = -extent; i <= extent; i += BED_PINS.step) {
    for (let j = -extent; j <= extent; j += BED_PINS.step) {
      const at: Point = [offset * normal[0] + i * a[0] + j * b[0], offset * normal[1] + i * a[1] + j * b[1], offset * normal[2] + i * a[2] + j * b[2]];
      if ([0, 1, 2].some((k) => at[k] < box[k] || at[k] > box[k + 3])) continue;
      let room = Infinity;
      for (let t = 0; t <= pins.lengthMm && room > 0; t += BED_PINS.step) room = Math.min(room, inside(along(at, normal, t)));
      if (room > 0) candidates.push({ at, room: room - pins.diameterMm / 2 - pins.clearanceMm });
    }
  }
  for (const room of BED_PINS.room) {
    const good = candidates.filter((c) => c.room >= room).map((c) => c.at);
    const placed: Point[] = [];
    const middle = good.reduce<Point>((sum, p) => [sum[0] + p[0] / good.length, sum[1] + p[1] / good.length, sum[2] + p[2] / good.length], [0, 0, 0]);
    while (placed.length < BED_PINS.count) {
      const from = placed.length === 0 ? [middle] : placed;
      const distance = (p: Point): number => Math.min(...from.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])));
      const next = good.reduce<Point | null>((best, p) => (best === null || distance(p) > distance(best) ? p : best), null);
      if (next === null || (placed.length > 0 && distance(next) < BED_PINS.apart * pins.diameterMm)) break;
      placed.push(next);
    }
    if (placed.length === BED_PINS.count || (placed.length > 0 && room === BED_PINS.room[BED_PINS.room.length - 1])) return placed;
  }
  return [];
}
