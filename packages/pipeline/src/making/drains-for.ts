import type { Point } from '@cast-to-last/foot/landmarks';
import type { DistanceGrid } from '@cast-to-last/geometry/distance/inner-distance';
import { crossAxes } from '@cast-to-last/geometry/solids/turned-body';
import { dot } from '@cast-to-last/geometry/numerics/vectors';
import { insidePiece } from './inside-piece.js';
import type { Bore, Face, PiecePlan } from './piece.js';
import { along, distanceToBore } from './piece.js';

export const DRAINS = {
  /** Steps of the search across and along a drain, mm. */
  across: 2,
  depth: 0.5,
  /** By how much a distance from outside to the piece may be read too great, mm: a cell of the distance grid. */
  slack: 2,
  /** No drain is longer than this over the wall, mm. */
  longest: 25,
  /** A drain ends this far outside the piece, mm. */
  beyond: 2,
  /** What is left round own pins, mm. */
  room: 1,
  /** Most places that are tried, and the least distance between drains over their diameter. */
  tries: 40,
  apart: 3,
} as const;

interface Place { readonly bore: Bore; readonly middle: Point; readonly score: number }

/**
 * Where a hollow runs empty: through the cuts of the piece, where the shoe does not show them, or through the top of a last
 * in one piece. Short ways and ways far from each other come first.
 *
 * @param box bounds of the hollow
 * @param reaches whether a drain opens into the hollow
 * @returns as many as there is room for, `count` at most
 */
export function drainsFor(
  field: DistanceGrid, plan: PiecePlan, box: Float64Array, wall: number, { count, diameterMm }: { readonly count: number; readonly diameterMm: number }, reaches: (bore: Bore) => boolean,
): Bore[] {
  const top: Face = { normal: [0, 0, 1], offset: Infinity };
  const faces = plan.cuts.length === 0 ? [top] : plan.cuts.map(({ face }) => face);
  const places = faces.flatMap((face) => placesThrough(field, plan, box, face, wall, diameterMm / 2));
  const taken: Place[] = [];
  while (taken.length < count) {
    const distance = (p: Place): number => Math.min(40, ...taken.map((q) => Math.hypot(p.middle[0] - q.middle[0], p.middle[1] - q.middle[1], p.middle[2] - q.middle[2])));
    const next = places
      .filter((p) => distance(p) >= (taken.length === 0 ? 0 : DRAINS.apart * diameterMm))
      .sort((a, b) => b.score + distance(b) / 4 - a.score - distance(a) / 4)
      .slice(0, DRAINS.tries)
      .find((p) => reaches(p.bore));
    if (next === undefined) break;
    taken.push(next);
  }
  return taken.map((p) => p.bore);
}

function placesThrough(field: DistanceGrid, plan: PiecePlan, box: Float64Array, face: Face, wall: number, radius: number): Place[] {
  const inside = insidePiece(field, plan);
  const pins = plan.cuts.flatMap((cut) => cut.pins);
  const [a, b] = crossAxes(face.normal);
  const middle: Point = [(box[0] + box[3]) / 2, (box[1] + box[4]) / 2, (box[2] + box[5]) / 2];
  const extent = Math.hypot(box[3] - box[0], box[4] - box[1], box[5] - box[2]) / 2;
  const places: Place[] = [];
  for (let i = -extent; i <= extent; i += DRAINS.across) {
    for (let j = -extent; j <= extent; j += DRAINS.across) {
      const base: Point = [middle[0] + i * a[0] + j * b[0], middle[1] + i * a[1] + j * b[1], middle[2] + i * a[2] + j * b[2]];
      const place = comingIn(inside, pins, base, face, extent + wall + DRAINS.longest, wall, radius);
      if (place !== null) places.push(place);
    }
  }
  return places;
}

/** The drain that comes in through a face along a line: from there to where it is wholly in the hollow; null where the way is too long, or another. */
function comingIn(inside: (p: Point) => number, pins: readonly Bore[], base: Point, face: Face, from: number, wall: number, radius: number): Place | null {
  const way = face.normal;
  let entered: number | null = null;
  for (let t = from; t > -from; t -= DRAINS.depth) {
    const p = along(base, way, t);
    const depth = inside(p);
    if (depth <= 0) {
      entered = null;
      // The piece is no nearer than that: the steps up to there are all outside.
      t -= DRAINS.depth * Math.max(0, Math.floor((-depth - DRAINS.slack) / DRAINS.depth));
      continue;
    }
    if (entered === null && face.offset - dot(way, p) > 2 * DRAINS.depth && face.offset !== Infinity) return null;
    entered ??= t;
    const length = entered - t;
    if (length > wall + DRAINS.longest) return null;
    if (depth < wall + radius || pins.some((pin) => distanceToBore(pin, p) < radius + DRAINS.room)) continue;
    const start = along(base, way, entered);
    if (pins.some((pin) => distanceToBore(pin, start) < radius + DRAINS.room)) return null;
    const bore: Bore = { origin: p, axis: way, profile: [[0, radius], [length + DRAINS.beyond, radius]] };
    return { bore, middle: p, score: Math.min(10, inside(along(p, way, -2 * radius)) - wall) - 2 * length };
  }
  return null;
}
