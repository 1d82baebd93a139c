import type { Point } from '@cast-to-last/foot/landmarks';
import { medialSign } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import { CastError } from '../errors.js';
import type { LastRules } from '../rules/last-rules.js';
import type { LastBody, LastChange, LastStep } from './last-body.js';
import type { BuiltToes } from './toes/build-toes.js';
import { buildToes } from './toes/build-toes.js';
import { fairOutline } from './toes/fair-outline.js';
import { HullExit } from './toes/hull-exit.js';
import { outlineRadius } from './toes/outline-radius.js';
import type { ToeSize } from './toes/set-toe-size.js';
import { moveAhead, raiseBox, shorten, toeSize } from './toes/set-toe-size.js';
import type { ToeFrame } from './toes/toe-frame.js';
import { ahead, ballLine, toeFrame } from './toes/toe-frame.js';
import { BEHIND, hullPoints, movedAhead, withAllowance } from './toes/toe-points.js';
import { toeShell } from './toes/toe-shell.js';
import { stretchHeights, toeWarp, unstretchHeights } from './toes/toe-warp.js';

export const TOES = {
  /** How far ahead of the ball line the toe part begins, mm. */
  start: 2,
  /** Share of the shorter way from there to the toes' ends over which allowance and height grow to their full size. */
  full: 0.75,
  /** New edges are about as long as the body's, but no longer than this, mm: long ones would cut off the round of a toe's tip. */
  longestEdge: 1,
  /** Most by which levelled toes without an allowance may be longer than the foot, mm. */
  longer: 0.25,
  /** An outline with a smaller radius than this, mm, is told. */
  sharp: 18,
} as const;

export type ToeRules = Pick<LastRules, 'toeAllowanceMm' | 'toeBox'>;

/**
 * Makes the toes the front of a last: what lies ahead of the ball line becomes a smooth box that holds the toes, bridges the
 * webs between them and the hollow behind their pads, and follows their outline as one fair curve; with an allowance, the
 * outline of where the toes come to on their way ahead by that much. A build-up needs a box to be built on: an allowance
 * levels the toes even where `level` is off. The first 20 mm or so ahead of the ball line go over from the foot to
 * the box; behind the line every coordinate stays what it is.
 *
 * `heightMm` is the height of the box as the foot's toe height is measured: greatest z of the part with x ≥ 0.90 of the
 * foot's length, above the lowest point of that part. The box is raised to it, never lowered into the toes.
 *
 * @returns the same body where nothing is asked for; changes in mm, ids `toe-allowance` (length) and `toe-box-height`
 * @throws CastError `toes-not-shaped` where the foot ahead of the ball is not in one piece
 */
export function shapeToes(body: LastBody, { toeAllowanceMm, toeBox }: ToeRules): LastStep {
  if (toeAllowanceMm === 0 && !toeBox.level) return { body, changes: [], warnings: [] };
  const { landmarks, mesh } = body;
  const side = medialSign(body.side);
  const before = toeSize(mesh.positions, landmarks.footLength);
  const start = ballLine(landmarks, TOES.start);
  const own = hullPoints(mesh, start);
  const thickness = before.high - before.low;
  const foot = toeFrame(own, start, side, thickness);
  if (foot === null) throw notShaped();
  const full = TOES.full * Math.min(...wayToEnds(foot));
  const points = withAllowance(own, start, full, toeAllowanceMm);
  const outline = fairOutline(own, movedAhead(own, start, full, toeAllowanceMm), start);
  const warp = toeWarp(mesh.positions, points, start);
  stretchHeights(points, warp, -BEHIND - 1);
  const stretched: Mesh = { positions: mesh.positions.slice(), triangles: mesh.triangles };
  stretchHeights(stretched.positions, warp, 0);
  const frame = toeFrame(points, start, side, thickness);
  if (frame === null) throw notShaped();
  const ways = wayToEnds(frame);
  const breadth = Math.abs(frame.coreStart[2] - frame.coreStart[0]);
  const shell = toeShell(new HullExit(points), outline, points.subarray(0, own.length), frame, { length: Math.max(...ways), round: 3.6 * breadth });
  const built = buildToes(stretched, shell, { length: (ways[0] + ways[1]) / 2, edge: Math.min(meanEdgeLength(mesh), TOES.longestEdge), right: side > 0 });
  if (built === null) throw notShaped();

  const { positions } = built.mesh;
  unstretchHeights(positions, warp);
  const length = before.tip + toeAllowanceMm;
  const { tip } = toeSize(positions, landmarks.footLength);
  // Levelled toes alone may come out a little longer than they were: the box holds them with a rounder end.
  const excess = tip - length;
  if (toeAllowanceMm > 0 || excess < 0) moveAhead(positions, start, full, -excess);
  else if (excess > TOES.longer) shorten(positions, length, TOES.longer);
  const changes: LastChange[] = [];
  const radius = outlineRadius(positions, start);
  const warnings: string[] = radius < TOES.sharp ? [sharp(radius)] : [];
  const got = toeSize(positions, landmarks.footLength).tip;
  changes.push({ id: 'toe-allowance', label: 'length with toe allowance', unit: 'mm', before: before.tip, asked: length, got });
  if (toeBox.heightMm !== null) {
    const level = toeSize(positions, landmarks.footLength);
    const missing = toeBox.heightMm - (level.high - level.low);
    if (missing > 0) raiseBox(positions, start, landmarks.footLength, level, missing);
    else if (missing < -LOWER_UNTOLD) warnings.push(tooLow(toeBox.heightMm, level));
    const { low, high } = toeSize(positions, landmarks.footLength);
    changes.push({ id: 'toe-box-height', label: 'height of the toe box', unit: 'mm', before: thickness, asked: toeBox.heightMm, got: high - low });
  }
  return { body: bodyOf(body, built), changes, warnings };
}

/** Less than this below the toes is not worth a warning, mm. */
const LOWER_UNTOLD = 0.1;

const sharp = (radius: number): string =>
  `The toe outline, seen from above, turns with a radius of ${radius.toFixed(0)} mm at its sharpest place: the toes and the length leave no room for a rounder one.`;

const tooLow = (asked: number, { low, high }: ToeSize): string =>
  `The rules ask for a toe box ${asked.toFixed(1)} mm high, but the toes need ${(high - low).toFixed(1)} mm: the box is left at that height.`;

/** How far the toes' ends lie ahead of the start, at the two ends of the core. */
const wayToEnds = ({ start, front, coreEnd }: ToeFrame): number[] => [coreEnd[0], coreEnd[2]].map((y) => ahead(start, front.at + front.slope * y, y));

function bodyOf(body: LastBody, { mesh, from, ends }: BuiltToes): LastBody {
  const place = new Int32Array(body.filled.length).fill(-1);
  const filled = new Uint8Array(from.length);
  for (let v = 0; v < from.length; v++) {
    if (from[v] >= 0) {
      place[from[v]] = v;
      filled[v] = body.filled[from[v]];
    } else if (ends[2 * v] >= 0) {
      filled[v] = body.filled[ends[2 * v]] & body.filled[ends[2 * v + 1]];
    }
  }
  const { tipVertex } = toeSize(mesh.positions, body.landmarks.footLength);
  const toeTip: Point = [mesh.positions[3 * tipVertex], mesh.positions[3 * tipVertex + 1], mesh.positions[3 * tipVertex + 2]];
  return { ...body, mesh, filled, opening: body.opening?.map((v) => place[v]) ?? null, landmarks: { ...body.landmarks, toeTip } };
}

const notShaped = (): CastError =>
  new CastError(
    'toes-not-shaped',
    'The toes cannot be made the front of a last: the foot ahead of the ball is not in one piece, or hardly any of it is there.',
    'Look whether the cast reaches over all toes and its ball points stand right; set last.toeAllowanceMm to 0 and last.toeBox.level to false to leave the toes as they were cast.',
  );
