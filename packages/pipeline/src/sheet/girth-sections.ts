import type { Side } from '@cast-to-last/foot/side';
import { medialSign } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { loopPlane } from '@cast-to-last/geometry/repair/loop-plane';
import { sectionOnce } from '@cast-to-last/geometry/sections/section-once';
import { simplifyLine } from '@cast-to-last/geometry/sections/simplify-line';
import type { SheetLine, SheetMeasure, SheetSection } from '@cast-to-last/sheet/measurement/content';
import type { SheetShapes } from './sheet-shapes.js';

/** The plane of a tape: unit normal and offset, and the paper's axes in it, right to the viewer who looks from behind. */
interface TapePlane {
  readonly normal: readonly [number, number, number];
  readonly offset: number;
  readonly right: readonly [number, number, number];
  readonly up: readonly [number, number, number];
}

type Vector = readonly [number, number, number];
const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a: Vector): Vector => {
  const length = Math.hypot(...a);
  return [a[0] / length, a[1] / length, a[2] / length];
};

/** The plane of a tape with the paper's axes; null where the line has no area or lies flat. */
function planeOf(line: Float64Array): TapePlane | null {
  const plane = loopPlane(line);
  if (plane === null) return null;
  const { normal, offset } = plane;
  // Along the line where the plane meets the level; from behind, −Y is to the right.
  const level: Vector = [normal[1], -normal[0], 0];
  if (!(Math.hypot(...level) > 1e-6)) return null;
  const sign = level[1] > 0 ? -1 : 1;
  const right = unit([sign * level[0], sign * level[1], 0]);
  const across = cross(normal, right);
  const up: Vector = across[2] < 0 ? [-across[0], -across[1], -across[2]] : across;
  return { normal, offset, right, up };
}

/** On the paper, heights from the tape's lowest point: tapes of cast and last may be tilted a little differently. */
function onPaper({ right, up }: TapePlane, points: Float64Array, floor: number): Float64Array {
  const out = new Float64Array((2 * points.length) / 3);
  for (let i = 0, j = 0; i < points.length; i += 3, j += 2) {
    const p = points.subarray(i, i + 3);
    out[j] = dot(right, p);
    out[j + 1] = dot(up, p) - floor;
  }
  return out;
}

/** How far outside the tape a curve may begin and still belong to its section, mm. */
const BELONGS = 3;

interface Cut {
  readonly curves: readonly SheetLine[];
  readonly tape: SheetLine;
}

/** The section of a mesh in a tape's plane, the curves that the tape goes round. */
function cut(mesh: Mesh, line: Float64Array): Cut | null {
  const plane = planeOf(line);
  if (plane === null) return null;
  let floor = Infinity;
  for (let i = 0; i < line.length; i += 3) floor = Math.min(floor, dot(plane.up, line.subarray(i, i + 3)));
  const tape = onPaper(plane, line, floor);
  const [xs, ys] = [0, 1].map((k) => tape.filter((_, i) => i % 2 === k));
  const left = Math.min(...xs);
  const right = Math.max(...xs);
  const low = Math.min(...ys);
  const high = Math.max(...ys);
  const curves = sectionOnce(mesh, plane.normal, plane.offset).flatMap(({ points, closed }): SheetLine[] => {
    const drawn = onPaper(plane, points, floor);
    const [x, y] = [0, 1].map((k) => (2 * drawn.reduce((sum, c, i) => (i % 2 === k ? sum + c : sum), 0)) / drawn.length);
    const within = x > left - BELONGS && x < right + BELONGS && y > low - BELONGS && y < high + BELONGS;
    return within && drawn.length >= 6 ? [{ points: simplifyLine(drawn, 0.05, closed), closed }] : [];
  });
  return { curves, tape: { points: tape, closed: true } };
}

/** Ball, waist, instep and heel: the short heel where there is one, else the long. */
export function girthSections({ cast, last, stations }: SheetShapes, measures: readonly SheetMeasure[], side: Side): SheetSection[] {
  const heel = stations.some((s) => s.id === 'short-heel-girth') || !stations.some((s) => s.id === 'long-heel-girth') ? 'short-heel-girth' : 'long-heel-girth';
  const lineOf = (id: string, on: 'cast' | 'last') => stations.find((s) => s.id === id && s.on === on)?.line;
  return ['ball-girth', 'waist-girth', 'instep-girth', heel].flatMap((id): SheetSection[] => {
    const measure = measures.find((m) => m.id === id);
    if (measure === undefined) return [];
    const castLine = lineOf(id, 'cast');
    const lastLine = lineOf(id, 'last');
    const ofCast = castLine === undefined ? null : cut(cast, castLine);
    const ofLast = lastLine === undefined ? null : cut(last, lastLine);
    return [{
      letter: measure.letter, label: measure.label, cast: ofCast?.curves ?? [], last: ofLast?.curves ?? [], tape: (ofLast ?? ofCast)?.tape ?? null,
      castGirth: measure.cast, lastGirth: measure.last, inside: medialSign(side) > 0 ? 'left' : 'right',
    }];
  });
}
