import type { Point } from '@cast-to-last/foot/landmarks';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import type { DistanceGrid } from '@cast-to-last/geometry/distance/inner-distance';
import { innerDistance } from '@cast-to-last/geometry/distance/inner-distance';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { SolidError, withSolids } from '@cast-to-last/geometry/solids/solid';
import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { uncrossed } from '@cast-to-last/geometry/crossings/uncrossed';
import { CastError } from '../errors.js';
import type { PrintRules } from '../rules/making-rules.js';
import { arrange } from './arrange.js';
import { asWritten } from './as-written.js';
import { buildPiece } from './build-piece.js';
import type { WrittenCheck } from './check-written.js';
import { checkWritten } from './check-written.js';
import { cellFor, hollowOf, hollowPiece } from './hollow-piece.js';
import type { Lay } from './lay-piece.js';
import { fitsBed, layPiece } from './lay-piece.js';
import type { PiecePlan, Wall } from './piece.js';
import { splitForBed } from './split-for-bed.js';
import { splitLast } from './split-last.js';
import type { Thinness } from './thin-places.js';
import { thinPlaces } from './thin-places.js';

export const PRINT = {
  /** Cell of the distance grid where nothing is hollow, mm. */
  cell: 2,
  /** A piece of less than this is none, mm³. */
  smallest: 3000,
  /** A piece is halved this often at most to fit the bed. */
  halvings: 4,
  /** How far a surface that crosses itself in slivers may be moved to be rid of them, mm, in turn. */
  simplify: [1e-3, 3e-3, 8e-3],
} as const;

export interface PrintedPiece {
  readonly plan: PiecePlan;
  readonly file: string;
  /** From 0. */
  readonly plate: number;
  /** As it lies on its plate, mm, in the coordinates that its files have. */
  readonly mesh: Mesh;
  /** Foot frame → plate. */
  readonly transform: Transform;
  readonly lay: Lay;
  readonly volume: number;
  readonly wall: Wall | null;
  /** Drains that were drilled. */
  readonly drains: number;
  readonly thin: Thinness;
  readonly stl: Uint8Array;
  /** The STL read back. */
  readonly written: WrittenCheck;
}

export interface PrintJob {
  /** In the order in which they come out of the shoe; those that were halved for the bed follow each other. */
  readonly pieces: readonly PrintedPiece[];
  readonly plates: number;
  /** Unit, foot frame: the way by which the first piece is drawn from the shoe; null for a last in one piece. */
  readonly drawn: Point | null;
  readonly warnings: readonly string[];
}

/**
 * The last as it is printed: split, pinned, hollowed and drained, each piece stood on the bed with the least overhang.
 *
 * @param last closed, manifold, outward, foot frame
 * @throws CastError `split-misses-last`, `bed-too-small`, and `piece-not-closed` where a piece does not come back closed
 * from its file
 */
export async function makePrint(last: Mesh, rules: PrintRules): Promise<PrintJob> {
  try {
    return await withSolids((scope) => printJob(scope, last, rules));
  } catch (error) {
    if (error instanceof SolidError) throw notSolid('the last', error.code);
    throw error;
  }
}

interface Cutout { readonly plan: PiecePlan; readonly solid: Solid; readonly hull: Float64Array }

function printJob(scope: SolidScope, mesh: Mesh, rules: PrintRules): PrintJob {
  const last = scope.ofMesh(mesh);
  const hollow = rules.body === 'hollow';
  let grid: DistanceGrid | null = null;
  const field = (): DistanceGrid => (grid ??= innerDistance(mesh, hollow ? cellFor(rules.wallMm) : PRINT.cell));
  const split = rules.split.by === 'none' ? { pieces: [{ name: 'last', cuts: [] }], drawn: null, warnings: [] } : splitLast(field(), last.bounds, rules.split, rules.pins);
  const warnings = [...split.warnings];
  const cutouts = split.pieces.flatMap((plan) => fitting(scope, last, plan, field, rules, warnings, 0));
  const whole = hollow ? hollowOf(scope, field(), rules.wallMm) : null;
  // What crosses itself already is the last's own, and told of by the stage that built it.
  const crossed = count(selfCrossings(mesh));
  const made = cutouts.map(({ plan, solid, hull }) => {
    const hollowed = whole === null ? { solid, drains: [], wall: null, warnings: [] } : hollowPiece(scope, solid, plan, whole, field(), rules);
    warnings.push(...hollowed.warnings);
    const foot = hollowed.solid.toMesh();
    return { plan, solid: hollowed.solid, volume: hollowed.solid.volume, wall: hollowed.wall, drains: hollowed.drains.length, lay: layPiece(foot, hull, plan, rules) };
  });
  const spots = arrange(made.map(({ lay }) => [lay.size[0], lay.size[1]]), [rules.bedMm[0], rules.bedMm[1]], rules.gapMm);
  const pieces = made.map(({ plan, solid, volume, wall, drains, lay }, i): PrintedPiece => {
    const transform = lay.transform.slice();
    transform[3] += spots[i].x;
    transform[7] += spots[i].y;
    const { lying, crossing } = lyingMesh(solid, transform, crossed);
    if (crossing > crossed) warnings.push(`The surface of the piece "${plan.name}" crosses itself in ${crossing} triangles: look at it before it is printed.`);
    const stl = writeStl(lying, { title: `${plan.name}, as it is printed` });
    const written = checkWritten(stl);
    if (!written.closed || written.volume <= 0) throw notSolid(`the piece "${plan.name}"`, 'not-manifold');
    if (written.pieces > 1) warnings.push(`The piece "${plan.name}" falls into ${written.pieces} parts: move its cut.`);
    return { plan, file: `print-${plan.name}.stl`, plate: spots[i].plate, mesh: lying, transform, lay, volume, wall, drains, thin: thinPlaces(lying, rules.thinMm), stl, written };
  });
  return { pieces, plates: 1 + Math.max(...spots.map((s) => s.plate)), drawn: split.drawn, warnings };
}

const count = (marks: Uint8Array): number => marks.reduce((sum, mark) => sum + mark, 0);

/**
 * The piece as it lies, as files hold it. Slivers of cuts that are thinner than 32-bit coordinates can tell may cross there:
 * then with fewer triangles, as long as that helps, and where it does not, with the tips drawn back that touch.
 */
function lyingMesh(solid: Solid, transform: Transform, allowed: number): { readonly lying: Mesh; readonly crossing: number } {
  let best = asWritten(transformMesh(transform, solid.toMesh()));
  let least = count(selfCrossings(best));
  for (const tolerance of PRINT.simplify) {
    if (least <= allowed) break;
    const fewer = asWritten(transformMesh(transform, solid.simplified(tolerance).toMesh()), tolerance);
    const crossing = count(selfCrossings(fewer));
    if (crossing < least) {
      best = fewer;
      least = crossing;
    }
  }
  if (least <= allowed) return { lying: best, crossing: least };
  const drawnBack = uncrossed(best);
  const left = count(selfCrossings(drawnBack));
  return left < least ? { lying: drawnBack, crossing: left } : { lying: best, crossing: least };
}

/** The piece, or the halves of it that fit the bed. */
function fitting(scope: SolidScope, last: Solid, plan: PiecePlan, field: () => DistanceGrid, rules: PrintRules, warnings: string[], halved: number): Cutout[] {
  const solid = buildPiece(scope, last, plan);
  if (solid.isEmpty || solid.volume < PRINT.smallest) throw missed(plan.name);
  const hull = solid.hull().toMesh().positions;
  if (fitsBed(hull, plan, rules)) return [{ plan, solid, hull }];
  if (halved === PRINT.halvings) throw tooSmall(rules);
  const { halves, pinned } = splitForBed(plan, field(), solid.bounds, rules.pins);
  if (pinned === 0) warnings.push(`The halves of "${plan.name}" have no room for pins of ${rules.pins.diameterMm} mm.`);
  if (solid !== last) solid.release();
  return halves.flatMap((half) => fitting(scope, last, half, field, rules, warnings, halved + 1));
}

const missed = (name: string): CastError =>
  new CastError('split-misses-last', `The cuts leave next to nothing for the piece "${name}".`, 'Move making.print.split.at, or lean the cut less.');

const tooSmall = ({ bedMm, gapMm }: PrintRules): CastError =>
  new CastError('bed-too-small', `On a bed of ${bedMm.join(' × ')} mm with a gap of ${gapMm} mm the last would need more than ${2 ** PRINT.halvings} pieces.`, 'Name a larger bed, or a smaller making.print.gapMm.');

const notSolid = (what: string, code: string): CastError =>
  new CastError('piece-not-closed', `For printing, ${what} is not closed (${code}).`, 'Move making.print.split.at by a hundredth, or change the wall by a tenth of a millimetre, and try again.');
