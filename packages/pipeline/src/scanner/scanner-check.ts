import type { FoundSphere } from '@cast-to-last/geometry/spheres/find-spheres';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { CastError } from '../errors.js';
import { alikeBalls, comeOutUnlike } from './alike-balls.js';
import { ballsIn, nearestPair } from './gauge-balls.js';
import type { MeasuredBall } from './measure-ball.js';
import { measureBall } from './measure-ball.js';
import type { LengthUnit } from '../records.js';
import { distance } from '@cast-to-last/geometry/numerics/vectors';

/** The gauge that was scanned: one ball, or two on a bar. */
export interface Gauge {
  /** Calibrated diameter of the balls, mm. */
  readonly diameterMm: number;
  /** Calibrated distance between the centres, mm; null for a single ball. */
  readonly distanceMm: number | null;
  /** Half-width of the 95 % interval of these two, from the calibration, mm. */
  readonly uncertaintyMm: number;
}

/** A figure with its error against the calibrated one; uncertainties are half-widths of 95 % intervals. */
export interface Compared {
  readonly measuredMm: number;
  readonly errorMm: number;
  readonly uncertaintyMm: number;
}

/** What a scan of the gauge says of the scanner. */
export interface ScannerCheck {
  readonly unit: LengthUnit;
  readonly unitHow: 'given' | 'inferred';
  readonly triangles: number;
  readonly gauge: Gauge;
  /** One or two, the better seen first. */
  readonly balls: readonly MeasuredBall[];
  /** Sphere-spacing error; null where the gauge has no calibrated distance. */
  readonly spacing: Compared | null;
  readonly scale: {
    /** Multiply coordinates of this scanner by it. */
    readonly factor: number;
    readonly uncertainty: number;
    /** From the distance of the balls where that is calibrated, else from their diameter, where light and coating go into it. */
    readonly from: 'spacing' | 'diameter';
    /** Whether it differs from 1 by more than its uncertainty. */
    readonly significant: boolean;
  };
  readonly warnings: readonly string[];
}

export const SCANNER_CHECK = {
  /** Share by which two balls' distance may be off and still be that pair. */
  spacing: 0.05,
  /** Least share of a ball's surface that must be seen. With less, its centre is uncertain along the line of sight. */
  leastSeen: 0.25,
  /** Most balls that are measured to tell which are the gauge's. */
  looked: 6,
  /** Fewest points on a ball. */
  leastPoints: 60,
  /** With the scale set right, balls that are off by more than this, mm, and their uncertainty are told of (chosen). */
  sizeNote: 0.03,
  /** Share of a ball's points apart from the others from which on that is told (chosen). */
  strayNote: 0.02,
} as const;

/** One file's mesh, coordinates as in the file. */
export interface GaugeScan {
  readonly mesh: Mesh;
  readonly unit: LengthUnit | 'auto';
}

/**
 * Finds the gauge's balls in a scan and measures them. Pure: no clock, no disk.
 *
 * @throws CastError `no-ball-found`, `unit-ambiguous`, `second-ball-not-found`, `ball-mostly-unseen`, `ball-too-coarse`, `ball-spacing-mismatch`
 */
export function checkScanner(scan: GaugeScan, gauge: Gauge): ScannerCheck {
  const { unit, mesh, found } = ballsIn(scan, gauge, SCANNER_CHECK);
  const warnings: string[] = [];
  if (!found[0].outward) warnings.push('The triangles of the scan face inwards; the balls were measured all the same.');
  const balls = chooseBalls(mesh, found, gauge, warnings);
  if (scan.unit === 'auto' && unit !== 'mm') warnings.push(`The file names no unit; ${unit} was taken, in which a ball of the given diameter is there.`);
  const spacing = balls.length === 2 && gauge.distanceMm !== null ? spacingOf(balls[0], balls[1], gauge.distanceMm, gauge.uncertaintyMm) : null;
  const scale = scaleOf(balls, spacing, gauge);
  const offset = balls.reduce((sum, b) => sum + b.diameterMm * scale.factor - gauge.diameterMm, 0) / balls.length;
  if (spacing !== null && Math.abs(offset) > SCANNER_CHECK.sizeNote + Math.max(...balls.map((b) => b.diameterUncertaintyMm))) {
    warnings.push(`With the scale set right the balls come out ${Math.abs(offset).toFixed(2)} mm too ${offset > 0 ? 'large' : 'small'}, as from a coating or from light that enters the surface.`);
  }
  for (const [i, ball] of balls.entries()) {
    if (ball.strayShare > SCANNER_CHECK.strayNote) warnings.push(`Ball ${i + 1}: ${(100 * ball.strayShare).toFixed(0)} % of its points lie apart from the others, as where views do not fit together.`);
  }
  return { unit, unitHow: scan.unit === 'auto' ? 'inferred' : 'given', triangles: triangleCount(mesh), gauge, balls, spacing, scale, warnings };
}

/** The one or two balls to measure, measured. */
function chooseBalls(mesh: Mesh, found: readonly FoundSphere[], gauge: Gauge, warnings: string[]): MeasuredBall[] {
  const seen = (f: FoundSphere): string => `${(100 * f.seen).toFixed(0)} %`;
  const tooLittle = (f: FoundSphere, share: number): CastError =>
    new CastError(
      'ball-mostly-unseen',
      `Only ${(100 * share).toFixed(0)} % of the surface of the ball at ${place(f)} can be measured; ${100 * SCANNER_CHECK.leastSeen} % are needed to place its centre.`,
      'Scan it from more sides, above all from opposite ones, on a stand that hides little of it.',
    );
  const enough = found.filter((f) => f.seen >= SCANNER_CHECK.leastSeen);
  if (enough.length === 0) throw tooLittle(found[0], found[0].seen);
  // Without a distance other round things are told from the gauge's balls by how large they come out.
  let chosen = enough.slice(0, SCANNER_CHECK.looked);
  if (gauge.distanceMm !== null) {
    if (enough.length === 1) {
      throw new CastError(
        'second-ball-not-found',
        `One ball of ${gauge.diameterMm} mm was found; the distance to a second one was given.${found.length > 1 ? ` Of what may be the second only ${seen(found[1])} is seen.` : ''}`,
        'Scan the gauge with both balls in one scan, or leave --distance out.',
      );
    }
    const { pair, off } = nearestPair(enough, gauge.distanceMm);
    if (off > SCANNER_CHECK.spacing * gauge.distanceMm) {
      throw new CastError(
        'ball-spacing-mismatch',
        `The balls lie ${distance(pair[0].centre, pair[1].centre).toFixed(1)} mm apart; ${gauge.distanceMm} mm were given, which no scanner misses by so much.`,
        'Check --distance (it runs from centre to centre), and that the right gauge was scanned.',
      );
    }
    chosen = [...pair];
  }
  const measured = chosen.map((f) => ({ f, ball: measureBall(mesh, f, gauge) }));
  const whole = measured.filter(({ ball }) => ball !== null && ball.points >= SCANNER_CHECK.leastPoints && ball.coverage >= SCANNER_CHECK.leastSeen);
  // Without a distance a second ball is welcome, but not needed.
  const lacking = gauge.distanceMm === null && whole.length > 0 ? undefined : measured.find((m) => !whole.includes(m));
  if (lacking !== undefined) {
    const { f, ball } = lacking;
    if (ball !== null && ball.points >= SCANNER_CHECK.leastPoints) throw tooLittle(f, ball.coverage);
    throw new CastError('ball-too-coarse', `The ball at ${place(f)} has only ${ball?.points ?? 0} points; at least ${SCANNER_CHECK.leastPoints} are needed.`, 'Scan it with a finer resolution.');
  }
  const balls = whole.flatMap(({ ball }) => (ball === null ? [] : [ball]));
  if (gauge.distanceMm !== null) return balls;
  const alike = alikeBalls(balls, gauge.diameterMm);
  for (const { diameterMm } of balls.filter((ball) => !alike.includes(ball))) {
    warnings.push(`A ball of ${diameterMm.toFixed(1)} mm was left out: it is not as large as the one of ${alike[0].diameterMm.toFixed(1)} mm, and the balls of a gauge are alike.`);
  }
  if (alike.length > 2) warnings.push(`${alike.length} balls of this diameter were found; the two that are best seen were measured.`);
  const chosenAlike = alike.slice(0, 2);
  if (chosenAlike.length === 2 && comeOutUnlike(chosenAlike[0], chosenAlike[1])) {
    warnings.push(`The two balls come out unlike, ${chosenAlike.map((b) => b.diameterMm.toFixed(2)).join(' and ')} mm: one of them may be another round thing. Leave only the gauge in the scan, or give --distance.`);
  }
  return chosenAlike;
}

const place = ({ centre }: FoundSphere): string => `(${Array.from(centre, (c) => c.toFixed(0)).join(', ')}) mm`;

function spacingOf(a: MeasuredBall, b: MeasuredBall, calibrated: number, calibration: number): Compared {
  const measuredMm = distance(a.centre, b.centre);
  const along = [0, 1, 2].map((k) => (b.centre[k] - a.centre[k]) / measuredMm);
  let variance = 0;
  for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) variance += along[r] * along[c] * (a.centreCovariance[3 * r + c] + b.centreCovariance[3 * r + c]);
  return { measuredMm, errorMm: measuredMm - calibrated, uncertaintyMm: Math.hypot(1.96 * Math.sqrt(variance), calibration) };
}

function scaleOf(balls: readonly MeasuredBall[], spacing: Compared | null, { diameterMm, distanceMm, uncertaintyMm }: Gauge): ScannerCheck['scale'] {
  const mean = balls.reduce((sum, b) => sum + b.diameterMm, 0) / balls.length;
  const doubt = Math.hypot(Math.hypot(...balls.map((b) => b.fitUncertaintyMm)) / balls.length, uncertaintyMm);
  const [measured, factor, off] = spacing !== null && distanceMm !== null ? [spacing.measuredMm, distanceMm / spacing.measuredMm, spacing.uncertaintyMm] : [mean, diameterMm / mean, doubt];
  const uncertainty = (factor * off) / measured;
  return { factor, uncertainty, from: spacing !== null ? 'spacing' : 'diameter', significant: Math.abs(factor - 1) > uncertainty };
}
