import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { MeasureId } from '@cast-to-last/foot/measures';
import { medialSign, type Side } from '@cast-to-last/foot/side';
import type { Field } from '../surface/implicit.js';
import { cut, inPlane, loopAt } from './cut.js';
import { frameBasis } from './frame.js';
import { tapeLength } from './tape.js';

export interface ReferenceMeasures {
  readonly measures: { [id in MeasureId]?: number };
  readonly landmarks: Landmarks;
}

export interface ReferenceOptions {
  /** As in frameBasis. */
  readonly field?: Field;
  /** Spares the slow measures that are not asked for. */
  readonly only?: readonly MeasureId[];
  /** How high the leg is whole: the lowest height of the cut or cap, mm; by default up to the first open section. */
  readonly top?: number;
}

const DEGREE = Math.PI / 180;

/** Tape in the plane through `point` that holds Y and the direction `along` (x, z); null where the loop is open. */
export function tapeWithY(mesh: Mesh, point: ArrayLike<number>, along: readonly [number, number]): number | null {
  const l = Math.hypot(along[0], along[1]);
  const u: [number, number, number] = [along[0] / l, 0, along[1] / l];
  const normal: [number, number, number] = [-u[2], 0, u[0]];
  const loop = loopAt(cut(mesh, normal, normal[0] * point[0] + normal[2] * point[2]), point);
  return loop && tapeLength(inPlane(loop, u, [0, 1, 0]));
}

/** The smallest tape among planes through `point` and Y, tilted −20° to +60° from upright (plus: the lower part towards the heel). */
export function smallestTilted(mesh: Mesh, point: Point): number | undefined {
  let best: number | undefined;
  let at = 0;
  const attempt = (degrees: number): void => {
    const tape = tapeWithY(mesh, point, [Math.sin(degrees * DEGREE), Math.cos(degrees * DEGREE)]);
    if (tape !== null && (best === undefined || tape < best)) {
      best = tape;
      at = degrees;
    }
  };
  for (let d = -20; d <= 60; d += 4) attempt(d);
  for (const step of [1, 0.25]) {
    const rough = at;
    for (let n = -4; n <= 4; n++) if (n !== 0 && rough + n * step >= -20 && rough + n * step <= 60) attempt(rough + n * step);
  }
  return best;
}

function highestAt(mesh: Mesh, x: number, below: number): Point | null {
  const { segments } = cut(mesh, [1, 0, 0], x);
  let best: Point | null = null;
  for (let i = 0; i < segments.length; i += 3) {
    if (segments[i + 2] <= below && (!best || segments[i + 2] > best[2])) best = [segments[i], segments[i + 1], segments[i + 2]];
  }
  return best;
}

function extreme(mesh: Mesh, score: (x: number, y: number, z: number) => number): Point {
  const p = mesh.positions;
  let best = 0;
  let most = -Infinity;
  for (let i = 0; i < p.length; i += 3) {
    const s = score(p[i], p[i + 1], p[i + 2]);
    if (s > most) {
      most = s;
      best = i;
    }
  }
  return [p[best], p[best + 1], p[best + 2]];
}

/** The point of the front contour on the midline (y = 0) that lies deepest in the ankle's bend: the least x + z in front of 0.25 FL. */
function crookOf(mesh: Mesh, fl: number, instep: Point): Point | null {
  const { segments } = cut(mesh, [0, 1, 0], 0);
  let best: Point | null = null;
  for (let i = 0; i < segments.length; i += 3) {
    const [x, y, z] = [segments[i], segments[i + 1], segments[i + 2]];
    if (x < 0.25 * fl || x > instep[0] || z < 0.85 * instep[2]) continue;
    if (!best || x + z < best[0] + best[2]) best = [x, y, z];
  }
  return best && best[0] < instep[0] - 0.02 * fl ? best : null;
}

/**
 * The smallest horizontal tape from 0.36 FL, where the malleoli end (medial malleolus at about 0.31 FL, its shoulder 13 mm
 * higher), up to `top`, in steps of 1 mm; undefined where the cast ends before, or still grows narrower there.
 */
function ankleGirth(mesh: Mesh, fl: number, top: number): number | undefined {
  let best = Infinity;
  let at = 0;
  let z = 0.36 * fl;
  for (; z <= top; z += 1) {
    const section = cut(mesh, [0, 0, 1], z);
    const loop = section.segments.length === 0 ? null : loopAt(section, section.segments);
    if (!loop) break;
    const length = tapeLength(inPlane(loop, [1, 0, 0], [0, 1, 0]));
    if (length < best) {
      best = length;
      at = z;
    }
  }
  return at > 0 && at < z - 3 ? best : undefined;
}

/**
 * The highest point of the sole (the underside seen from below, outwards as far as it slopes less than 45°) on the
 * medial third of the section's breadth below 0.20 FL, 0.35 to 0.55 FL, by sections 1 mm and strips 0.1 mm apart: at 45° a strip's width is as much of the height.
 */
function archHeight(mesh: Mesh, side: Side, fl: number): number {
  const sign = medialSign(side);
  let most = 0;
  for (let x = 0.35 * fl; x <= 0.55 * fl; x += 1) {
    const { segments } = cut(mesh, [1, 0, 0], x);
    let low = Infinity;
    let high = -Infinity;
    for (let i = 0; i < segments.length; i += 3) {
      if (segments[i + 2] > 0.2 * fl) continue;
      low = Math.min(low, sign * segments[i + 1]);
      high = Math.max(high, sign * segments[i + 1]);
    }
    // Outwards from the middle, as far as the sole goes: to where it turns up steeper than 45°.
    for (let y = high - (high - low) / 3; y < high; y += 0.1) {
      let lowest = Infinity;
      let steep = false;
      for (let i = 0; i < segments.length; i += 6) {
        const [y0, z0, y1, z1] = [sign * segments[i + 1], segments[i + 2], sign * segments[i + 4], segments[i + 5]];
        if (y0 < y === y1 < y) continue;
        const z = z0 + ((y - y0) / (y1 - y0)) * (z1 - z0);
        if (z >= lowest) continue;
        lowest = z;
        steep = Math.abs(z1 - z0) > Math.abs(y1 - y0);
      }
      if (steep || lowest === Infinity) break;
      most = Math.max(most, lowest);
    }
  }
  return most;
}

/**
 * Every measure of the sheet, and its landmarks, of a clean surface that stands in the foot frame. Ids that it cannot give are left out; A mesh with a cap needs `top`.
 */
export function referenceMeasures(mesh: Mesh, side: Side, { field, only, top = Infinity }: ReferenceOptions = {}): ReferenceMeasures {
  const wanted = (id: MeasureId): boolean => !only || only.includes(id);
  const basis = frameBasis(mesh, side, field);
  const fl = basis.footLength;
  const { medialBall, lateralBall } = basis;
  const across = [lateralBall[0] - medialBall[0], lateralBall[1] - medialBall[1]];
  const width = Math.hypot(across[0], across[1]);
  const u: Point = [across[0] / width, across[1] / width, 0];
  const normal: Point = [-u[1], u[0], 0];
  const ball = cut(mesh, normal, normal[0] * medialBall[0] + normal[1] * medialBall[1]);
  const ballCentre: Point = [(medialBall[0] + lateralBall[0]) / 2, (medialBall[1] + lateralBall[1]) / 2, (medialBall[2] + lateralBall[2]) / 2];
  const p = mesh.positions;
  let low = Infinity;
  let high = -Infinity;
  let toeHigh = -Infinity;
  let toeLow = Infinity;
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] >= 0.5 * fl) {
      low = Math.min(low, p[i + 1]);
      high = Math.max(high, p[i + 1]);
    }
    if (p[i] >= 0.9 * fl) {
      toeHigh = Math.max(toeHigh, p[i + 2]);
      toeLow = Math.min(toeLow, p[i + 2]);
    }
  }
  const instep = highestAt(mesh, 0.5 * fl, Infinity);
  const waist = instep && highestAt(mesh, (instep[0] + ballCentre[0]) / 2, Infinity);
  const heelCorner = extreme(mesh, (x, _y, z) => -x - z);
  const crook = instep && crookOf(mesh, fl, instep);
  const measures: { [id in MeasureId]?: number } = {
    'foot-length': fl,
    'medial-ball-length': medialBall[0] - basis.heelX,
    'lateral-ball-length': lateralBall[0] - basis.heelX,
    'ball-girth': tapeLength(inPlane(ball.segments, u, [0, 0, 1])),
    'ball-width': width,
    'ball-angle': Math.abs(Math.atan2(medialBall[0] - lateralBall[0], Math.abs(medialBall[1] - lateralBall[1]))) / DEGREE,
    'foot-breadth': high - low,
    'heel-width': basis.heelWidth,
    'toe-height': toeHigh - toeLow,
  };
  if (wanted('arch-height')) measures['arch-height'] = archHeight(mesh, side, fl);
  if (wanted('ankle-girth')) measures['ankle-girth'] = ankleGirth(mesh, fl, top);
  if (instep) {
    measures['instep-height'] = instep[2];
    if (wanted('instep-girth')) measures['instep-girth'] = smallestTilted(mesh, instep);
    measures['long-heel-girth'] = tapeWithY(mesh, instep, [instep[0] - heelCorner[0], instep[2] - heelCorner[2]]) ?? undefined;
  }
  if (waist && wanted('waist-girth')) measures['waist-girth'] = smallestTilted(mesh, waist);
  if (crook) measures['short-heel-girth'] = tapeWithY(mesh, crook, [crook[0] - heelCorner[0], crook[2] - heelCorner[2]]) ?? undefined;
  for (const id of Object.keys(measures) as MeasureId[]) if (measures[id] === undefined) delete measures[id];
  return {
    measures,
    landmarks: {
      footLength: fl,
      pternion: extreme(mesh, (x, _y, z) => (z < 0.3 * fl ? -x : -Infinity)),
      toeTip: extreme(mesh, (x) => x),
      heelCentre: [basis.heelCentre[0], basis.heelCentre[1], 0],
      ballCentre,
      medialBall,
      lateralBall,
      instep,
      waist,
      crook,
      heelCorner,
    },
  };
}
