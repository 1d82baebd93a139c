import { denseCholesky, invertCholesky, solveCholesky } from '@cast-to-last/geometry/numerics/dense-cholesky';
import type { Plane } from '../rest-plane.js';
import { CONTACT } from './contact-plane.js';
import { PLATES } from './plates.js';
import type { Plates } from './plates.js';
import { bendBetween, SOLE } from './sole-planes.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const ROUNDING = {
  /** As in PLATES: what lies within twice such a distance has a say, mm. */
  scales: [0.5, 0.35, 0.25, 0.18, 0.13, 0.1, 0.08, 0.065],
  roundsEach: 6,
  /** What is taken of the rounding where the sole tells little of it, mm, and the weight of that as a share of what the surface says. */
  usual: 3,
  usualWeight: 3e-5,
  least: 0.05,
  /** It reaches no farther than this from the hinge, mm. */
  reach: 30,
  /** A foot stands askew to the hinge by about this much, radians: so far may the plates slope across against each other. */
  askew: 0.05,
  /** Half-width of a 95 % interval of the height of 1 mm² of pressed surface, mm: what lies beside it errs alike. */
  height: 2.5,
} as const;

/** Two plates and how the sole is rounded between them. */
export interface RoundedPlates extends Plates {
  /** The sole leaves one plate and comes to the other where their planes lie this far apart, mm along z. */
  readonly rounding: number;
  /** Covariance of the slopes and heights of the rear and the front plate and of the rounding, for surface of which 1 mm² errs by 1 mm; 7 × 7. */
  readonly covariance: Float64Array;
}

/** Half-width of a 95 % interval in standard deviations. */
const WIDTH = 1.96;

/** Unknowns: a, b, c of the rear plate, of the front plate, rounding. */
const N = 7;

/**
 * The plates with the rounding between them: plaster and skin do not follow an edge, they pass from plate to plate in an
 * arc that may reach as far as the sole is pressed. What lies on the arc tells where the hinge is; taken for a plate it
 * bends the front one down. Least squares over the surface of both plates and the arc at once, by the weights of
 * `pressedPlates`.
 *
 * @param sole vertices of the sole that can be leaned on
 * @param plates where to begin
 * @returns null where the plates are bent too little to meet in a hinge, or are not fixed
 */
export function roundedPlates(cast: StandingCast, sole: Uint32Array, plates: Plates): RoundedPlates | null {
  if (bendBetween(plates) < SOLE.leastBend) return null;
  let found: RoundedPlates = { ...plates, rounding: roundingWithin(ROUNDING.usual, plates), covariance: new Float64Array(N * N) };
  for (const scale of ROUNDING.scales) {
    for (let round = 0; round < ROUNDING.roundsEach; round++) {
      const next = nearer(found, sumsOver(cast, sole, found, 2 * scale), round === ROUNDING.roundsEach - 1);
      if (next === null) return null;
      found = next;
    }
  }
  return bendBetween(found) < SOLE.leastBend ? null : found;
}

/** Half-width of a 95 % interval of the bend, radians. */
export const bendSpread = ({ rear, front, covariance }: RoundedPlates): number =>
  ROUNDING.height * deviation(covariance, [-1 / (1 + rear.a ** 2), 0, 0, 1 / (1 + front.a ** 2), 0, 0, 0]);

/** Half-width of a 95 % interval of where the hinge lies at the breadth y, mm. */
export function hingeSpread({ rear, front, covariance }: RoundedPlates, y: number): number {
  const slope = front.a - rear.a;
  const x = -((front.b - rear.b) * y + front.c - rear.c) / slope;
  return (ROUNDING.height / slope) * deviation(covariance, [x, y, 1, -x, -y, -1, 0]);
}

function deviation(covariance: Float64Array, along: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < N; i++) for (let j = 0; j < N; j++) sum += along[i] * covariance[N * i + j] * along[j];
  return Math.sqrt(Math.max(0, sum));
}

const roundingWithin = (rounding: number, { rear, front }: Plates): number => Math.max(ROUNDING.least, Math.min(rounding, ROUNDING.reach * (front.a - rear.a)));

/** Normal equations of one step. */
interface Sums {
  readonly matrix: Float64Array;
  readonly right: Float64Array;
  /** Weighted surface, mm². */
  readonly weight: number;
}

function sumsOver({ mesh: { positions: p }, normals, areas }: StandingCast, sole: Uint32Array, { rear, front, rounding: k }: RoundedPlates, reach: number): Sums {
  const matrix = new Float64Array(N * N);
  const right = new Float64Array(N);
  const by = new Float64Array(N);
  let all = 0;
  for (const v of sole) {
    const i = 3 * v;
    const x = p[i];
    const y = p[i + 1];
    const onRear = heightAt(rear, x, y);
    const apart = heightAt(front, x, y) - onRear;
    // The arc is a parabola in the distance of the planes: u beyond both ends, (u + k)² / 4k between them.
    const share = apart >= k ? 1 : apart <= -k ? 0 : (apart + k) / (2 * k);
    const rise = share === 1 ? apart : k * share * share;
    const a = rear.a + share * (front.a - rear.a);
    const b = rear.b + share * (front.b - rear.b);
    const length = Math.sqrt(a * a + b * b + 1);
    const over = p[i + 2] - onRear - rise;
    const far = (over / (length * reach)) * (over < 0 ? PLATES.below : 1);
    if (Math.abs(far) >= 1 || normals[i + 2] - a * normals[i] - b * normals[i + 1] > -CONTACT.facing * length) continue;
    const weight = areas[v] * (1 - far * far) ** 2;
    by.set([(1 - share) * x, (1 - share) * y, 1 - share, share * x, share * y, share, share * (1 - share)]);
    for (let m = 0; m < N; m++) {
      const weighted = weight * by[m];
      right[m] += weighted * over;
      for (let n = 0; n <= m; n++) matrix[N * m + n] += weighted * by[n];
    }
    all += weight;
  }
  for (let m = 0; m < N; m++) for (let n = 0; n < m; n++) matrix[N * n + m] = matrix[N * m + n];
  return { matrix, right, weight: all };
}

/** One step of least squares, the plates pulled level with each other across, for both hang on one hinge; null where they are not fixed. */
function nearer(from: RoundedPlates, { matrix, right, weight }: Sums, last: boolean): RoundedPlates | null {
  const { rear, front, rounding } = from;
  const pull = (ROUNDING.height / WIDTH / (ROUNDING.askew * (front.a - rear.a))) ** 2;
  const apart = pull * (front.b - rear.b);
  matrix[N * 1 + 1] += pull;
  matrix[N * 4 + 4] += pull;
  matrix[N * 1 + 4] -= pull;
  matrix[N * 4 + 1] -= pull;
  right[1] += apart;
  right[4] -= apart;
  const toUsual = ROUNDING.usualWeight * weight * Math.min(1, rounding / ROUNDING.usual) ** 2;
  matrix[N * 6 + 6] += toUsual;
  right[6] += toUsual * (ROUNDING.usual - rounding);
  const factor = denseCholesky(matrix, N);
  if (factor === null) return null;
  const d = solveCholesky(factor, right);
  const plates = {
    rear: { a: rear.a + d[0], b: rear.b + d[1], c: rear.c + d[2] },
    front: { a: front.a + d[3], b: front.b + d[4], c: front.c + d[5] },
  };
  return { ...plates, rounding: roundingWithin(rounding + d[6], plates), covariance: last ? invertCholesky(factor, N) : from.covariance };
}

const heightAt = ({ a, b, c }: Plane, x: number, y: number): number => a * x + b * y + c;
