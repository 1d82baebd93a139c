import type { BedAngles } from '@cast-to-last/foot/footbed';
import { bedAngles } from '@cast-to-last/foot/footbed';
import type { BeyondToes } from '@cast-to-last/foot/position/beyond-toes';
import { beyondToes } from '@cast-to-last/foot/position/beyond-toes';
import { bridgeSole } from '@cast-to-last/foot/position/bridge-sole';
import { flatsUnderMarks } from '@cast-to-last/foot/position/flats-under-marks';
import { legSideTo } from '@cast-to-last/foot/position/cap-level';
import type { Level } from '@cast-to-last/foot/position/level';
import { soleLevel } from '@cast-to-last/foot/position/level';
import type { MadeUpAreas } from '@cast-to-last/foot/position/made-up-areas';
import { madeUpAreas } from '@cast-to-last/foot/position/made-up-areas';
import type { BesideHeel, PartedBend } from '@cast-to-last/foot/position/parted-sole';
import { besideTiltedHeel, rolledBend } from '@cast-to-last/foot/position/parted-sole';
import { pressedPlates } from '@cast-to-last/foot/position/plates';
import { roundedPlates } from '@cast-to-last/foot/position/rounded-plates';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { SOLE, solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { between, soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { SoleSlide } from '@cast-to-last/foot/position/sole-slide';
import { soleSlide } from '@cast-to-last/foot/position/sole-slide';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import { surfaceAtVertices } from '@cast-to-last/foot/position/standing-cast';
import { sureContact } from '@cast-to-last/foot/position/sure-contact';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { wholeTo } from '../stages/align.js';
import type { Mark } from '../records.js';
import type { CheckContext } from './check-context.js';
import type { HingedSole, ShownPlates } from './hinged-sole.js';
import { hingedSole } from './hinged-sole.js';

/** The two planes of the sole, and how far they can be trusted. */
export interface ReadSole {
  readonly planes: SolePlanes;
  readonly hinged: HingedSole;
  readonly slide: SoleSlide;
  /** Share (0 to 1) of the seat that was scanned least which is not made up. */
  readonly sure: number;
}

/** What several parts of the check read the position from; made once for each cast. */
export interface Position {
  readonly cast: StandingCast;
  /** Vertices of the sole that can be leaned on, and those of them where no mark was smoothed. */
  readonly vertices: Uint32Array;
  readonly untouched: Uint32Array;
  /** Plaster ahead of the toes; null where nothing tells where the toes end. */
  readonly beyond: BeyondToes | null;
  /** What the foot stood on ahead of a heel that was tilted off it; null where it was not. */
  readonly besideHeel: BesideHeel | null;
  /** How far the sole itself stands off the frame's level. */
  readonly level: Level;
  /** Share (0 to 1) of what the whole cast rests on, under heel or ball, the lesser, that is not made up. */
  readonly restSure: number;
  /** One sentence on why not where the planes cannot be read. */
  readonly sole: ReadSole | string;
  /** Angles of the order's footbed; null where it names none. */
  readonly bed: BedAngles | null;
  /** Surface that repair made, by region. */
  readonly madeUp: MadeUpAreas;
}

/** Least share of a seat that must have been scanned for the planes to rest on it. */
const LEAST_SURE = 0.35;

/** The heel seat ends at this share of foot length. */
export const HEEL_END = 0.28;

export const NO_FOOTBED = 'The order names no footbed, so there is nothing to hold it against.';

export const DEG = 180 / Math.PI;

const known = new WeakMap<CheckContext, Position>();

export function positionOf(context: CheckContext): Position {
  let found = known.get(context);
  if (found === undefined) {
    const { cast, mended } = standingCast(context);
    const beyond = beyondToes(cast);
    const toeEnd = cast.landmarks.toeTip[0] - (beyond?.length ?? 0);
    const vertices = between(cast, soleVertices(cast), -Infinity, toeEnd);
    const untouched = vertices.filter((v) => mended[v] === 0);
    const whole = solePlanes(cast, vertices);
    const rolled = whole === null ? null : rolledBend(cast, untouched, whole);
    // A heel that was tilted off the rear plate tells nothing of it.
    const beside = whole === null || rolled !== null ? null : besideTiltedHeel(cast, untouched, whole);
    const planes = beside?.planes ?? whole;
    const pressed = beside?.sole ?? untouched;
    const trough = planes === null ? null : pressedPlates(cast, pressed, planes);
    const rounded = trough === null || rolled !== null ? null : roundedPlates(cast, pressed, trough);
    const plates = rounded ?? trough;
    const parted = rolled ?? (plates === null ? beside?.parted ?? null : null);
    const mendedCast = plates === null ? cast : bridgeSole(cast, untouched, plates);
    const bridged = { cast: mendedCast, vertices: between(mendedCast, soleVertices(mendedCast), beside?.from ?? -Infinity, toeEnd) };
    const sole = readSole(cast, bridged, planes, { plates: trough === null ? null : { trough, rounded }, parted });
    const { footbed } = context.casting;
    found = {
      cast,
      vertices,
      untouched,
      beyond,
      besideHeel: beside,
      level: soleLevel(bridged.cast, plates === null ? untouched : bridged.vertices, rolled === null ? plates : null, beside?.rear ?? null),
      restSure: restSure(cast),
      sole,
      bed: footbed === undefined ? null : bedAngles(footbed),
      madeUp: madeUpAreas(context.measured.mesh, context.aligned.filled, cast.side, cast.landmarks),
    };
    known.set(context, found);
  }
  return found;
}

function restSure(cast: StandingCast): number {
  const { footLength, ballCentre } = cast.landmarks;
  const rest = { a: 0, b: 0, c: 0 };
  const heelEnd = HEEL_END * footLength;
  return Math.min(sureContact(cast, rest, -Infinity, heelEnd), sureContact(cast, rest, (heelEnd + ballCentre[0]) / 2, Infinity));
}

/** The cast with its sole as the plates tell it under marks, where it was pressed on plates; and the vertices of that sole. */
interface BridgedSole {
  readonly cast: StandingCast;
  readonly vertices: Uint32Array;
}

/** What tells bend and hinge before the contact planes do. */
interface Hinge {
  readonly plates: ShownPlates | null;
  readonly parted: PartedBend | null;
}

function readSole(cast: StandingCast, bridged: BridgedSole, unbridged: SolePlanes | null, { plates, parted }: Hinge): ReadSole | string {
  const planes = unbridged === null ? null : solePlanes(bridged.cast, bridged.vertices, { start: unbridged.crease });
  if (planes === null || unbridged === null) return 'The sole rests on no two planes that could be told.';
  const { rear, front, crease } = planes;
  const heelEnd = HEEL_END * cast.landmarks.footLength;
  const seats = [
    { name: 'heel', sure: sureContact(cast, rear, -Infinity, heelEnd) },
    { name: 'ball', sure: sureContact(cast, rear, (heelEnd + crease) / 2, crease - SOLE.margin) },
    { name: 'toes', sure: sureContact(cast, front, crease + SOLE.margin, Infinity) },
  ];
  const least = seats.reduce((a, b) => (b.sure < a.sure ? b : a));
  if (least.sure < LEAST_SURE) return `Most of the sole under the ${least.name} was missing in the scan.`;
  const { medialBall } = cast.landmarks;
  const slide = soleSlide(bridged.cast, bridged.vertices, planes, medialBall, unbridged);
  return { planes, hinged: hingedSole(planes, plates, parted, slide, medialBall), slide, sure: least.sure };
}

/** The cast as position is read from it, which leans on no mark that was left; and where smoothing made its sole. */
function standingCast(context: CheckContext): { readonly cast: StandingCast; readonly mended: Uint8Array } {
  const { surface: mesh, twin, aligned, measured, inspected, filled } = context;
  const smoothed = verticesAt(context, inspected.marks.filter((mark) => mark.decision === 'smooth'));
  // Repair made what is filled; what bears a mark that was left is not leaned on either.
  const left = verticesAt(context, inspected.marks.filter((mark) => mark.decision !== 'smooth'));
  const cast: StandingCast = {
    mesh, twin, side: aligned.side, landmarks: { ...measured.landmarks, medialBall: measured.medialBallSmoothed ?? measured.landmarks.medialBall }, ...surfaceAtVertices(mesh), unsure: filled.map((made, v) => made | left[v]),
    wholeTo: Math.min(wholeTo(measured.mesh, aligned.opening), legSideTo(mesh, measured.landmarks.footLength, aligned.opening === null)),
  };
  const flats = flatsUnderMarks(cast, context.scanned, smoothed.map((mark, v) => (filled[v] === 1 ? 0 : mark | left[v])));
  const unsure = filled.map((made, v) => made | (left[v] & flats.marked[v]));
  return { cast: { ...flats.cast, unsure }, mended: smoothed.map((mark, v) => mark & (filled[v] | flats.marked[v])) };
}

/** One byte a vertex of the context's surface: 1 where one of the marks lay on the scan. */
function verticesAt({ scanned, inspected, measured }: CheckContext, marks: readonly Mark[]): Uint8Array {
  const out = new Uint8Array(scanned.length / 3);
  if (marks.length === 0) return out;
  const { mesh, spacing } = inspected.surface;
  const size = 2 * spacing;
  const cells = new Set<number>();
  for (const mark of marks) {
    const at = new Float64Array(3 * mark.vertices.length);
    mark.vertices.forEach((v, i) => at.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i));
    const settled = transformPositions(measured.settle, at);
    for (let i = 0; i < settled.length; i += 3) cells.add(cellOf(settled, i, size));
  }
  for (let v = 0; v < out.length; v++) if (cells.has(cellOf(scanned, 3 * v, size))) out[v] = 1;
  return out;
}

/** A number of its own for each cell of a grid that holds any foot. */
const cellOf = (p: Float64Array, i: number, size: number): number =>
  ((Math.floor(p[i] / size) + 512) * 1024 + Math.floor(p[i + 1] / size) + 512) * 1024 + Math.floor(p[i + 2] / size) + 512;
