import { aheadOfBallLine } from '@cast-to-last/foot/ball-line';
import { denseCholesky, solveCholesky } from '@cast-to-last/geometry/numerics/dense-cholesky';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { median } from '@cast-to-last/geometry/numerics/median';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { tangentLine } from './corner.js';
import type { EdgeSection } from './edge-sections.js';
import { edgeSection } from './edge-sections.js';
import { FLAT } from './flat-sole.js';
import type { SoleMap } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';

const RADIUS = {
  /** Slopes of the tangents between which the edge is read, degrees: half-way from sole to side and as much to either hand. */
  fromDeg: 27,
  toDeg: 63,
  /** One section in so many is read. */
  every: 3,
  /** The heel's end is left out, as a share of foot length: its sections lie along the foot. */
  heelEnd: 0.04,
} as const;

/** Median radius of the edge between sole and side over tread and heel seat, mm; NaN where no section shows it. */
export function edgeRadius(mesh: Mesh, twin: Int32Array, outline: SoleOutline, map: SoleMap, landmarks: Landmarks): number {
  const radii: number[] = [];
  for (let s = 0; s < outline.count; s += RADIUS.every) {
    if (!onTreadOrSeat(outline.points[2 * s], outline.points[2 * s + 1], landmarks)) continue;
    const edge = edgeSection(mesh, twin, outline, map, s);
    if (edge !== null) radii.push(radiusOf(edge));
  }
  return radii.length === 0 ? NaN : median(Float64Array.from(radii));
}

function onTreadOrSeat(x: number, y: number, landmarks: Landmarks): boolean {
  const fl = landmarks.footLength;
  if (x < FLAT.seatTo * fl) return x > RADIUS.heelEnd * fl;
  const ahead = aheadOfBallLine(x, y, landmarks);
  return ahead > FLAT.treadFrom * fl && ahead < FLAT.treadTo * fl;
}

/**
 * The radius with which a section turns from sole to side: how far its tangents lie out is, over their slope, that of a
 * circle, centre · direction + radius, by least squares.
 */
function radiusOf(edge: EdgeSection): number {
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (let deg = RADIUS.fromDeg; deg <= RADIUS.toDeg; deg++) {
    const slope = (deg * Math.PI) / 180;
    const { far } = tangentLine(edge, slope);
    const row = [Math.sin(slope), -Math.cos(slope), 1];
    for (let i = 0; i < 3; i++) {
      right[i] += row[i] * far;
      for (let j = 0; j < 3; j++) normal[3 * i + j] += row[i] * row[j];
    }
  }
  const factor = denseCholesky(normal, 3);
  return factor === null ? NaN : solveCholesky(factor, right)[2];
}
