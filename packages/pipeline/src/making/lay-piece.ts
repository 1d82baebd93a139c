import type { Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { crossAxes } from '@cast-to-last/geometry/solids/turned-body';
import type { PrintRules } from '../rules/making-rules.js';
import type { Overhang } from './overhang.js';
import { overhangs } from './overhang.js';
import type { PiecePlan } from './piece.js';

export const LAY = {
  /** Turns about the vertical that are tried, degrees apart. */
  stepDeg: 5,
  /** Of orientations whose overhang differs by less than this, mm², the one that rests on more is taken, then the lower one. */
  alike: 25,
} as const;

/** One way of standing a piece on the bed. */
export interface Standing extends Overhang {
  /** Unit, foot frame: what is turned down. */
  readonly down: Point;
  /** mm: width, depth, height, turned about the vertical so that it fits, or as small as it goes. */
  readonly size: Point;
  readonly fits: boolean;
}

export interface Lay extends Standing {
  /** Foot frame → on the bed, the corner of the piece's box at the origin. */
  readonly transform: Transform;
  /** Every orientation that was looked at. */
  readonly tried: readonly Standing[];
}

/** The 26 directions of the faces, edges and corners of a cube, and the cuts of the piece. */
function directions({ cuts }: PiecePlan): Point[] {
  const out: Point[] = cuts.map(({ face }) => face.normal);
  for (const x of [-1, 0, 1]) {
    for (const y of [-1, 0, 1]) {
      for (const z of [-1, 0, 1]) {
        const length = Math.hypot(x, y, z);
        if (length > 0) out.push([x / length, y / length, z / length]);
      }
    }
  }
  return out;
}

/** Foot frame → z up where `down` is turned down, turned about the vertical by `angle`. */
function turned(down: Point, angle: number): Transform {
  const up: Point = [-down[0], -down[1], -down[2]];
  const [a, b] = crossAxes(up);
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const out = new Float64Array(16);
  for (let k = 0; k < 3; k++) {
    out[k] = c * a[k] - s * b[k];
    out[4 + k] = s * a[k] + c * b[k];
    out[8 + k] = up[k];
  }
  out[15] = 1;
  return out;
}

/** The turn about the vertical with the least footprint, among those that fit where there are any. */
function bestTurn(hull: Float64Array, down: Point, room: Point): { readonly transform: Transform; readonly size: Point; readonly fits: boolean } {
  let best: { transform: Transform; size: Point; fits: boolean; area: number } | null = null;
  for (let deg = 0; deg < 180; deg += LAY.stepDeg) {
    const transform = turned(down, (deg * Math.PI) / 180);
    const b = bounds(transformPositions(transform, hull));
    const size: Point = [b[3] - b[0], b[4] - b[1], b[5] - b[2]];
    const fits = size.every((s, k) => s <= room[k]);
    const area = size[0] * size[1];
    if (best !== null && (best.fits !== fits ? best.fits : best.area <= area)) continue;
    for (let k = 0; k < 3; k++) transform[4 * k + 3] = -b[k];
    best = { transform, size, fits, area };
  }
  if (best === null) throw new RangeError('no turn was tried');
  return best;
}

/** What of the bed a piece may fill, mm. */
const roomOf = ({ bedMm: [x, y, z], gapMm }: PrintRules): Point => [x - 2 * gapMm, y - 2 * gapMm, z];

/** Whether a piece fits the bed in any of the orientations that are looked at. `hull`: vertices of its convex hull. */
export const fitsBed = (hull: Float64Array, plan: PiecePlan, rules: PrintRules): boolean => directions(plan).some((down) => bestTurn(hull, down, roomOf(rules)).fits);

/** The orientation of the least overhang among those that fit the bed. `hull`: vertices of its convex hull, foot frame. */
export function layPiece(mesh: Mesh, hull: Float64Array, plan: PiecePlan, rules: PrintRules): Lay {
  const downs = directions(plan);
  const hanging = overhangs(mesh, downs, rules.overhangDeg);
  const turns = downs.map((down) => bestTurn(hull, down, roomOf(rules)));
  const tried = downs.map((down, i): Standing => ({ down, ...hanging[i], size: turns[i].size, fits: turns[i].fits }));
  const better = (a: number, b: number): boolean => {
    if (tried[a].fits !== tried[b].fits) return tried[a].fits;
    const less = tried[b].area - tried[a].area;
    if (Math.abs(less) > LAY.alike) return less > 0;
    const rests = tried[a].resting - tried[b].resting;
    return Math.abs(rests) > LAY.alike ? rests > 0 : tried[a].size[2] < tried[b].size[2];
  };
  const least = tried.reduce((best, _, i) => (better(i, best) ? i : best), 0);
  return { ...tried[least], transform: turns[least].transform, tried };
}
