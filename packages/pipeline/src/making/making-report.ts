import type { Point } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { MillingRules, PrintRules } from '../rules/making-rules.js';
import { rounded } from '../report/rounded.js';
import type { Blank } from './blank.js';
import type { PrintJob, PrintedPiece } from './make-print.js';
import { boresIn } from './piece.js';

/** Whose last this is; for the heads of files and reports. */
export interface MakingHeader {
  readonly orderNumber: string;
  readonly side: Side;
  readonly rules: { readonly name: string; readonly version: string; readonly sha256: string };
  readonly programVersion: string;
}

/** milling.json; packages/pipeline/schema/milling.schema.json describes the same. Lengths mm, volumes mm³. */
export type MillingReport = MakingHead & { readonly milling: ReturnType<typeof millingOf> };

/** making.json; packages/pipeline/schema/making.schema.json describes the same. Lengths mm, areas mm², volumes mm³. */
export type MakingReport = MakingHead & {
  readonly last: { readonly triangles: number; readonly volume: number; readonly closed: boolean };
  readonly print: ReturnType<typeof printOf>;
  readonly milling: ReturnType<typeof millingOf>;
  readonly warnings: readonly string[];
};

interface MakingHead {
  readonly schema: 1;
  readonly order: string;
  readonly side: Side;
  readonly rules: MakingHeader['rules'];
  readonly program: { readonly version: string };
}

export const makingHead = ({ orderNumber, side, rules: { name, version, sha256 }, programVersion }: MakingHeader): MakingHead => ({
  schema: 1, order: orderNumber, side, rules: { name, version, sha256 }, program: { version: programVersion },
});

const roundedPoint = ([x, y, z]: Point): Point => [rounded(x), rounded(y), rounded(z)];

export function printOf(job: PrintJob, rules: PrintRules) {
  return {
    body: rules.body,
    split: rules.split.by,
    /** The way by which the first piece is drawn from the shoe, unit, foot frame. */
    drawn: job.drawn === null ? null : roundedPoint(job.drawn),
    bed: rules.bedMm,
    plates: Array.from({ length: job.plates }, (_, n) => ({ file: plateFile(n), pieces: job.pieces.filter((p) => p.plate === n).map((p) => p.plan.name) })),
    pieces: job.pieces.map((piece) => pieceOf(piece, rules)),
  };
}

export const plateFile = (plate: number): string => `print-${plate + 1}.3mf`;

function pieceOf({ plan, file, plate, transform, lay, volume, wall, drains, thin, written }: PrintedPiece, rules: PrintRules) {
  return {
    name: plan.name,
    file,
    plate: plate + 1,
    size: roundedPoint(lay.size),
    volume: rounded(volume),
    /** Foot frame → plate, 4 × 4 row-major. */
    transform: Array.from(transform),
    pins: boresIn(plan, 'pins').length,
    sockets: boresIn(plan, 'sockets').length,
    drains,
    /** From the hollow's surface to the outside, measured. */
    wall: wall === null ? null : { asked: wall.asked, least: rounded(wall.least), median: rounded(wall.median), most: rounded(wall.most), hollow: rounded(wall.hollow) },
    overhang: {
      limitDeg: rules.overhangDeg,
      area: rounded(lay.area),
      resting: rounded(lay.resting),
      /** What is turned down, foot frame. */
      down: roundedPoint(lay.down),
      tried: lay.tried.map((t) => ({ down: roundedPoint(t.down), area: rounded(t.area), resting: rounded(t.resting), size: roundedPoint(t.size), fits: t.fits })),
    },
    /** Places in the coordinates of the file. */
    thin: {
      limit: rules.thinMm,
      least: Number.isFinite(thin.least) ? rounded(thin.least) : null,
      area: rounded(thin.area),
      places: thin.places.map((place) => ({ at: roundedPoint(place.at), least: rounded(place.least), area: rounded(place.area) })),
    },
    /** The file, read back after it was made. */
    written: { triangles: written.triangles, closed: written.closed, pieces: written.pieces, volume: rounded(written.volume) },
  };
}

export const millingOf = (blank: Blank, rules: MillingRules) => ({
  along: blank.along,
  turnedDeg: blank.turnedDeg,
  size: roundedPoint(blank.size),
  roundDiameter: rounded(blank.roundDiameter),
  last: roundedPoint(blank.lastSize),
  hold: { start: rounded(blank.hold.start), end: rounded(blank.hold.end) },
  stock: { asked: rules.stockMm, sides: blank.stock.map(rounded) },
  volume: rounded(blank.volume),
  /** Foot frame → blank, its corner at the origin, x along it, 4 × 4 row-major. */
  transform: Array.from(blank.transform),
});
