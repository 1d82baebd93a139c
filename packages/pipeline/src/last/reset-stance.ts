import { acrossBall } from '@cast-to-last/foot/ball-line';
import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { bedAngles } from '@cast-to-last/foot/footbed';
import { allCurves, girthInPlane } from '@cast-to-last/foot/girths';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { SOLE } from '@cast-to-last/foot/position/sole-planes';
import { surfaceAtVertices } from '@cast-to-last/foot/position/standing-cast';
import type { StanceRules } from '../rules/last-rules.js';
import type { LastBody, LastChange, LastStep } from './last-body.js';
import type { BallBend } from './stance/bend-at-ball.js';
import { BEND, ballBend, bendLandmarks, bendMesh } from './stance/bend-at-ball.js';
import type { FeltBody } from './stance/felt-body.js';
import { feltAgain, feltBody } from './stance/felt-body.js';
import type { PartedSole, Stance } from './stance/stance-of.js';
import { partedSole, stanceOf, stanceOfParts } from './stance/stance-of.js';

/** Steepest plane that a height may ask for, radians. */
const STEEPEST = (50 * Math.PI) / 180;
const DEGREE = Math.PI / 180;
/** A bend that is this near to the one asked for is reached, radians. */
const REACHED = 0.1 * DEGREE;
/** Rounds in which the turn is set right by what is read after it, and the error that ends them, radians. */
const ROUNDS = 6;
const SETTLED = 0.01 * DEGREE;

/**
 * Sets the stance that the shoe is made for, where it is not that of the cast.
 *
 * The sole rests on two planes, the rear one under heel seat and tread, the front one under tread and toes, which meet in
 * the crease at the ball. The floor passes through the crease at the breadth of the ball centre. Measured are
 * - `heelHeightMm`: height over the floor of the place on the rear plane square under the heel centre;
 * - `toeSpringMm`: height over the floor of the place on the front plane square under the toe tip, the toe end of the sole.
 *
 * On a given floor these two fix the bend: each is the length along its plane times the sine of that plane's pitch, and the
 * bend is the sum of the pitches. The cast's own floor is that of the casting footbed; without one it is the rest plane, so
 * that heel height is 0 and the toe spring all that the front rises. A height that is null stays that of the cast: a new
 * heel height alone changes the bend so that the toe spring over the floor stays.
 *
 * The body stays in the foot frame, its rear where it was, bit for bit. What lies ahead of the ball is turned about an axis
 * along Y through the crease, over an arc as long as the dorsum needs; the neutral line along the sole keeps its length, the
 * dorsum follows. Landmarks move along; foot length, of which stations are shares, stays the foot's own.
 *
 * @param footbed that the cast was taken on; null where there was none
 * @returns changes `heel-height` and `toe-spring` (mm), `heel-pitch` and `sole-bend` (degrees); `ball-girth-of-stance` (mm)
 * tells what the turn does to the girth round the ball. A warning instead where the sole shows no two planes.
 */
export function resetStance(body: LastBody, stance: StanceRules, footbed: HingedFootbed | null): LastStep {
  if (stance.heelHeightMm === null && stance.toeSpringMm === null) return { body, changes: [], warnings: [] };
  const felt = feltBody(body);
  const first = stanceOf(felt);
  if (first === null) return { body, changes: [], warnings: ['The sole rests on no two planes: heel height and toe spring stay those of the cast.'] };
  const pitch = footbed === null ? 0 : bedAngles(footbed).heelPitch;
  const dorsum = dorsumHeight(felt, first.crease);
  const { footLength } = body.landmarks;
  const { half } = ballBend(first, limited(wantedPitches(first, stance, pitch).bend - first.bend), dorsum, footLength);
  // What the arc bends belongs to no plane: the planes are read again with the arc left out.
  const parts = partedSole(felt, first.crease, Math.max(SOLE.margin, half));
  const was = stanceOfParts(felt, parts) ?? first;
  const wanted = wantedPitches(was, stance, pitch);
  const bendFor = ({ toeLength }: Stance): number => wanted.heelPitch + angleOf(wanted.toeSpring, toeLength);
  const bend = settledBend(felt, was, bendFor, parts, (angle) => ({ ...ballBend(was, angle, dorsum, footLength), half }));
  const landmarks = bendLandmarks(body.landmarks, bend);
  const mesh = bendMesh(body.mesh, bend);
  const turned = feltAgain(felt, { mesh, landmarks });
  const now = stanceOfParts(turned, parts);
  const warnings: string[] = [];
  if (now === null) warnings.push('The sole that was turned rests on no two planes: its stance cannot be read.');
  else if (Math.abs(now.bend - bendFor(now)) > REACHED) warnings.push(`The sole is bent by ${degrees(now.bend)}° where ${degrees(bendFor(now))}° were asked for.`);
  return { body: { ...body, mesh, landmarks }, changes: [...(now === null ? [] : changesOf(was, pitch, { ...wanted, bend: bendFor(now) }, now)), ...ofBallGirth(felt, turned)], warnings };
}

/**
 * The turn after which the sole is read to be bent as wanted. A sole that lies flat on its planes needs the difference of
 * both; one that is round touches its planes elsewhere when it is turned, so the turn is set right by what is read after it.
 * What belongs to either plane stays what it was before the turn.
 *
 * @param wanted the bend that gives the toe spring over the length that the front then has, radians
 */
function settledBend(felt: FeltBody, was: Stance, wanted: (now: Stance) => number, parts: PartedSole, bendBy: (angle: number) => BallBend): BallBend {
  let bend = bendBy(limited(wanted(was) - was.bend));
  let best = bend;
  let nearest = Infinity;
  for (let round = 0; round < ROUNDS; round++) {
    const mesh = bendMesh(felt.mesh, bend);
    const now = stanceOfParts({ ...felt, mesh, ...surfaceAtVertices(mesh), landmarks: bendLandmarks(felt.landmarks, bend) }, parts);
    if (now === null) break;
    const miss = wanted(now) - now.bend;
    if (Math.abs(miss) < nearest) {
      best = bend;
      nearest = Math.abs(miss);
    }
    if (nearest < SETTLED) break;
    bend = bendBy(limited(bend.angle + miss));
  }
  return best;
}

interface Pitches {
  readonly heelPitch: number;
  readonly bend: number;
  readonly heelHeight: number;
  readonly toeSpring: number;
}

/** Heights over the floor and the pitches that make them; what the rule leaves null is the cast's. */
function wantedPitches(was: Stance, { heelHeightMm, toeSpringMm }: StanceRules, pitch: number): Pitches {
  const heelHeight = heelHeightMm ?? was.heelLength * Math.sin(pitch);
  const toeSpring = toeSpringMm ?? was.toeLength * Math.sin(was.bend - pitch);
  const heelPitch = angleOf(heelHeight, was.heelLength);
  return { heelPitch, bend: heelPitch + angleOf(toeSpring, was.toeLength), heelHeight, toeSpring };
}

const angleOf = (height: number, length: number): number => Math.asin(Math.max(-1, Math.min(Math.sin(STEEPEST), height / Math.max(1, length))));

const limited = (turn: number): number => Math.max(-BEND.most, Math.min(BEND.most, turn));

const degrees = (angle: number): string => (angle / DEGREE).toFixed(1);

/** How high the body stands over the crease, mm. */
function dorsumHeight({ mesh: { positions: p }, landmarks }: FeltBody, crease: number): number {
  let highest = 0;
  for (let i = 0; i < p.length; i += 3) {
    if (Math.abs(p[i] - crease) < 0.04 * landmarks.footLength && p[i + 2] > highest) highest = p[i + 2];
  }
  return highest;
}

function changesOf(was: Stance, pitch: number, wanted: Pitches, now: Stance): LastChange[] {
  return [
    { id: 'heel-height', label: 'heel height', unit: 'mm', before: was.heelLength * Math.sin(pitch), asked: wanted.heelHeight, got: now.heelLength * Math.sin(wanted.heelPitch) },
    { id: 'toe-spring', label: 'toe spring', unit: 'mm', before: was.toeLength * Math.sin(was.bend - pitch), asked: wanted.toeSpring, got: now.toeLength * Math.sin(now.bend - wanted.heelPitch) },
    { id: 'heel-pitch', label: 'heel pitch', unit: 'deg', before: pitch / DEGREE, asked: wanted.heelPitch / DEGREE, got: wanted.heelPitch / DEGREE },
    { id: 'sole-bend', label: 'bend of the sole at the ball', unit: 'deg', before: was.bend / DEGREE, asked: wanted.bend / DEGREE, got: now.bend / DEGREE },
  ];
}

function ofBallGirth(before: FeltBody, after: FeltBody): LastChange[] {
  const [was, now] = [before, after].map((felt) => ballGirth(felt, felt.landmarks));
  return was === null || now === null ? [] : [{ id: 'ball-girth-of-stance', label: 'ball girth after the stance was set', unit: 'mm', before: was, asked: null, got: now }];
}

function ballGirth(surface: FeltBody, landmarks: Landmarks): number | null {
  const { x, y } = acrossBall(landmarks);
  return girthInPlane(surface, landmarks.lateralBall, [x, y, 0], [0, 0, 1], allCurves)?.length ?? null;
}
