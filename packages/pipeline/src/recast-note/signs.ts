import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { medialSign } from '@cast-to-last/foot/side';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Finding, Reading } from '../records.js';
import { toesRight } from './views.js';
import type { ViewName } from './views.js';

/** A line of points in the foot frame, mm. */
export type Line3 = readonly Point[];

/** What a picture shows of one finding, in the foot frame. */
export interface Sign {
  readonly view: ViewName;
  readonly measured: readonly Line3[];
  readonly wanted: readonly Line3[];
  /** Between what was measured and what is wanted. */
  readonly between: readonly Line3[];
  readonly places: readonly Point[];
}

export interface SignContext {
  readonly finding: Finding;
  readonly reading: Reading | null;
  readonly mesh: Mesh;
  readonly landmarks: Landmarks;
  readonly side: Side;
  /** Radians; 0 where the order has no footbed. */
  readonly heelPitch: number;
}

type Draw = (context: SignContext, value: number, wanted: number) => Sign;

const rad = (deg: number): number => (deg * Math.PI) / 180;

/** Signs by the finding's code, of those that are an angle, a length or an offset. Values as in the readings: degrees, mm. */
const SIGNS: Readonly<Record<string, Draw>> = {
  'forward-lean': ({ finding, mesh, landmarks, side, heelPitch }, value, wanted) => {
    const along = (deg: number): Point => [Math.sin(rad(deg) - heelPitch), 0, Math.cos(rad(deg) - heelPitch)];
    return { view: toesRight(side), ...leaning(along(value), along(wanted), finding.at ?? middleOfLeg(mesh, landmarks), mesh, landmarks), places: [] };
  },

  'rear-view': ({ finding, mesh, landmarks, side }, value, wanted) => {
    const along = (deg: number): Point => [0, medialSign(side) * Math.sin(rad(deg)), Math.cos(rad(deg))];
    return { view: 'rear', ...leaning(along(value), along(wanted), finding.at ?? middleOfLeg(mesh, landmarks), mesh, landmarks), places: [] };
  },

  'sole-bend': ({ finding, landmarks, side }, value, wanted) => {
    const crease: Point = [finding.at?.[0] ?? landmarks.ballCentre[0], 0, 0];
    const length = 1.06 * landmarks.footLength - crease[0];
    const front = (deg: number): Point => [crease[0] + length * Math.cos(rad(deg)), 0, length * Math.sin(rad(deg))];
    return { view: toesRight(side), measured: [[[0, 0, 0], crease, front(value)]], wanted: [[crease, front(wanted)]], between: [[crease, front(value), front(wanted)]], places: [] };
  },

  'heel-on-plate': ({ landmarks: { footLength }, side }, value, wanted) => {
    const pivot: Point = [0.28 * footLength, 0, 0];
    const back = (deg: number): Point => [pivot[0] - 0.34 * footLength * Math.cos(rad(deg)), 0, 0.34 * footLength * Math.sin(rad(deg))];
    return { view: toesRight(side), measured: [[pivot, back(value)]], wanted: [[pivot, back(wanted)]], between: [[pivot, back(value), back(wanted)]], places: [] };
  },

  'ball-on-hinge': ({ landmarks: { medialBall, lateralBall }, side }, value) => {
    const m = medialSign(side);
    const across = (x: number): Line3 => [[x, medialBall[1] + 8 * m, 0], [x, lateralBall[1] - 8 * m, 0]];
    const hinge = across(medialBall[0] + value);
    const ball = across(medialBall[0]);
    return { view: 'sole', measured: [hinge], wanted: [ball], between: [[...hinge, ...ball.toReversed()]], places: [medialBall] };
  },

  'forefoot-twist': ({ landmarks: { medialBall, lateralBall }, side }, value, wanted) => {
    const half = 0.62 * Math.abs(medialBall[1] - lateralBall[1]);
    const x = medialBall[0];
    const y = (medialBall[1] + lateralBall[1]) / 2;
    const plate = (deg: number): Line3 => [-1, 1].map((s) => [x, y + s * half * medialSign(side) * Math.cos(rad(deg)), s * half * Math.sin(rad(deg))] as const);
    const stood = plate(value);
    const level = plate(wanted);
    const between = [0, 1].map((end): Line3 => [[x, y, 0], stood[end], level[end]]);
    return { view: 'front', measured: [stood], wanted: [level], between, places: [] };
  },

  'toe-box': ({ finding, mesh, landmarks }, value) => {
    const { footLength, medialBall, lateralBall } = landmarks;
    const x = 0.86 * footLength;
    const ball = Math.hypot(medialBall[0] - lateralBall[0], medialBall[1] - lateralBall[1]);
    const middle = middleAcross(mesh, x) ?? (medialBall[1] + lateralBall[1]) / 2;
    const walls = (share: number): Line3[] => [-1, 1].map((s) => [-1, 1].map((end) => [x + 0.07 * footLength * end, middle + (s * share * ball) / 2, 0] as const));
    return { view: 'top', measured: walls(value), wanted: finding.limit === null ? [] : walls(finding.limit), between: [], places: [] };
  },

  'beyond-toes': ({ landmarks: { footLength, toeTip }, side }, value) => {
    const upright = (x: number): Line3 => [[x, 0, Math.max(0, toeTip[2] - 0.07 * footLength)], [x, 0, toeTip[2] + 0.12 * footLength]];
    return { view: toesRight(side), measured: [upright(footLength)], wanted: [upright(footLength - value)], between: [], places: [] };
  },

  'stops-short': ({ landmarks: { footLength }, mesh, side }, value, wanted) => {
    const [from, to] = legAt(mesh, 0.8 * value);
    const level = (z: number): Line3 => [[from - 0.05 * footLength, 0, z], [to + 0.05 * footLength, 0, z]];
    const end = level(value);
    const needed = level(wanted);
    return { view: toesRight(side), measured: [end], wanted: [needed], between: [[...end, ...needed.toReversed()]], places: [] };
  },

  ...Object.fromEntries(
    (['ball', 'waist', 'instep'] as const).map((girth): [string, Draw] => [`closing-${girth}`, ({ finding, landmarks }, value) => {
      const [x, y, z] = finding.at ?? topOf(girth, landmarks);
      const along = (beside: number): Line3 => [-1, 1].map((end) => [x + 0.08 * landmarks.footLength * end, y + beside, z] as const);
      return { view: 'top', measured: [along(value / 2), along(-value / 2)], wanted: [], between: [], places: [[x, y, z]] };
    }]),
  ),
};

/** What the picture of a finding shows; null where it is nothing but a place, or its figures are missing. */
export function signOf(context: SignContext): Sign | null {
  const { finding, reading } = context;
  if (finding.value === null || !Object.hasOwn(SIGNS, finding.code)) return null;
  return SIGNS[finding.code](context, finding.value, reading?.wanted ?? 0);
}

/** Two lines that part low on the leg and end a little above its top; the measured one runs through `through`. */
function leaning(measured: Point, wanted: Point, through: Point, mesh: Mesh, { footLength }: Landmarks): Pick<Sign, 'measured' | 'wanted' | 'between'> {
  const down = (through[2] - 0.14 * footLength) / measured[2];
  const foot: Point = [through[0] - down * measured[0], through[1] - down * measured[1], 0.14 * footLength];
  const up = (highest(mesh) - foot[2] + 0.06 * footLength) / measured[2];
  const end = (v: Point): Point => [foot[0] + up * v[0], foot[1] + up * v[1], foot[2] + up * v[2]];
  return { measured: [[foot, end(measured)]], wanted: [[foot, end(wanted)]], between: [[foot, end(measured), end(wanted)]] };
}

function highest({ positions }: Pick<Mesh, 'positions'>): number {
  let top = -Infinity;
  for (let i = 2; i < positions.length; i += 3) top = Math.max(top, positions[i]);
  return top;
}

/** The middle of the box round what lies above the crook of the ankle, or above a third of the foot's length. */
function middleOfLeg(mesh: Mesh, { crook, footLength }: Landmarks): Point {
  const z = crook?.[2] ?? footLength / 3;
  const [from, to, right, left] = legAt(mesh, Math.min(z, 0.9 * highest(mesh)));
  return [(from + to) / 2, (right + left) / 2, (z + highest(mesh)) / 2];
}

/** Least and greatest x and y of what lies above z; of the whole where nothing does. */
function legAt({ positions: p }: Mesh, z: number): [number, number, number, number] {
  const above = z <= highest({ positions: p }) ? z : -Infinity;
  const box: [number, number, number, number] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3) {
    if (p[i + 2] < above) continue;
    box[0] = Math.min(box[0], p[i]);
    box[1] = Math.max(box[1], p[i]);
    box[2] = Math.min(box[2], p[i + 1]);
    box[3] = Math.max(box[3], p[i + 1]);
  }
  return box;
}

/** The middle of the cast's breadth about x; null where it has no surface there. */
function middleAcross({ positions: p }: Mesh, x: number): number | null {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < p.length; i += 3) {
    if (Math.abs(p[i] - x) > 3) continue;
    low = Math.min(low, p[i + 1]);
    high = Math.max(high, p[i + 1]);
  }
  return high > low ? (low + high) / 2 : null;
}

function topOf(girth: 'ball' | 'waist' | 'instep', { ballCentre, waist, instep, footLength }: Landmarks): Point {
  if (girth === 'waist' && waist !== null) return waist;
  if (girth === 'instep' && instep !== null) return instep;
  return [ballCentre[0], ballCentre[1], 0.2 * footLength];
}
