import { capCone } from '@cast-to-last/geometry/repair/cap-cone';
import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import type { SolidScope } from '@cast-to-last/geometry/solids/solid';
import type { TopRules } from '../rules/last-rules.js';
import type { LastBody, LastChange } from './last-body.js';
import { chooseCut, isWorked, wholeHeight } from './top/choose-cut.js';
import { cutTop } from './top/cut-top.js';
import type { FlatTop } from './top/flat-top.js';
import type { TopPlane } from './top/top-plane.js';
import { planTop, workTop } from './top/work-top.js';

export interface ClosedLast {
  /** Closed; coordinates are 32-bit floats. */
  readonly mesh: Mesh;
  readonly changes: readonly LastChange[];
  readonly warnings: readonly string[];
  /** The flat top, at the end of the cone; null where the body is closed as it ends. */
  readonly top: FlatTop | null;
  /** Height up to which the surface is the foot's all round, mm: no measure is taken above it. Infinity for a closed body that is not cut. */
  readonly wholeTo: number;
}

export interface ClosingRules {
  readonly topHeightMm: number | null;
  readonly top: TopRules;
}

/**
 * Closes the body: where it ends, or cut flat at a height or along the top line, its cone carried up and closed
 * flat, holes drilled into the flat top at right angles to it, order number, side and stations marked. Without any rule of the
 * top the surface is the body's own, to 32-bit floats, closed flat or, over a ragged edge, by a shallow cone. Where the rules ask for more than a cut but name none, the body is cut
 * level a little below the lowest point of its opening, with a warning.
 *
 * @param label null: the letter of the side alone
 * @throws CastError `top-too-low`, `top-line-too-steep`, `top-line-cuts-forefoot`, `top-in-pieces`, `top-needs-height`,
 * `thimble-breaks-through`, `pin-breaks-through`, `holes-too-close`
 * @throws SolidError where a surface that is cut in several places is no solid
 */
export function closeTop(scope: SolidScope, body: LastBody, rules: ClosingRules, label: { readonly orderNumber: string } | null): ClosedLast {
  const chosen = chooseCut(body, rules);
  const whole = wholeHeight(body);
  if (chosen === null) {
    return { mesh: inFloat32(capped(body)), changes: [], warnings: [], top: null, wholeTo: body.opening === null ? Infinity : whole };
  }
  const { coneMm } = rules.top;
  const cut = cutTop(scope, { ...body, mesh: inFloat32(body.mesh) }, chosen, { coneMm, onePiece: isWorked(rules.top) });
  const mesh = inFloat32(cut.mesh);
  const changes = changesOf(mesh, cut.rim, chosen.plane, rules, whole);
  const closed = { changes, top: cut.top, wholeTo: extreme(cut.rim, 2, -1)[2] };
  const warnings = [...chosen.warnings, ...cut.warnings];
  if (cut.top === null) return { ...closed, mesh, warnings };
  const work = planTop(mesh, cut.top, rules.top, body, label?.orderNumber ?? null);
  return { ...closed, mesh: workTop(scope, mesh, cut.top, work, rules.top, body), warnings: [...warnings, ...work.warnings] };
}

/** The body closed where it ends: flat, or over an edge so ragged that a flat cap would cross it, by a cone. */
function capped({ mesh, opening }: LastBody): Mesh {
  if (opening === null) return mesh;
  const flat = capLoop(mesh, opening);
  const crossings = capCrossings(flat, mesh);
  if (crossings === 0) return flat;
  const cone = capCone(mesh, opening, UP);
  return capCrossings(cone, mesh) < crossings ? cone : flat;
}

/** How many of the triangles that cap a mesh cross it or each other. */
function capCrossings({ positions: p, triangles: closed }: Mesh, { triangles }: Mesh): number {
  const cap = closed.subarray(triangles.length);
  let lowest = Infinity;
  for (const v of cap) lowest = Math.min(lowest, p[3 * v + 2]);
  // What lies below the whole cap cannot meet it, and that is nearly all of the body.
  const beside: number[] = [];
  for (let h = 0; h < triangles.length; h += 3) {
    const a = triangles[h];
    const b = triangles[h + 1];
    const c = triangles[h + 2];
    if (p[3 * a + 2] >= lowest || p[3 * b + 2] >= lowest || p[3 * c + 2] >= lowest) beside.push(a, b, c);
  }
  const part = new Uint32Array(beside.length + cap.length);
  part.set(beside);
  part.set(cap, beside.length);
  const isCap = new Uint8Array(part.length / 3).fill(1, beside.length / 3);
  const crosses = selfCrossings({ positions: p, triangles: part }, isCap);
  let count = 0;
  for (let t = beside.length / 3; t < crosses.length; t++) count += crosses[t];
  return count;
}

const UP = [0, 0, 1] as const;

/** Coordinates as files hold them, so that what is checked is what is written. */
const inFloat32 = ({ positions, triangles }: Mesh): Mesh => ({ positions: new Float64Array(new Float32Array(positions)), triangles });

/** What the rules asked of the top, and what the surface has, read from the cut's edge and the closed mesh. */
function changesOf({ positions }: Mesh, rim: Float64Array, { normal: n, offset }: TopPlane, { topHeightMm, top }: ClosingRules, whole: number): LastChange[] {
  const changes: LastChange[] = [];
  const add = (id: string, label: string, before: number, asked: number, got: number): void => { changes.push({ id, label, unit: 'mm', before, asked, got }); };
  if (topHeightMm !== null) add('top-height', 'height of the cut', whole, topHeightMm, extreme(rim, 2, 1)[2]);
  if (top.line !== null) {
    add('top-line-back', 'top line at the back of the heel', whole, top.line.backMm, extreme(rim, 0, -1)[2]);
    add('top-line-front', "top line at the instep's front", whole, top.line.frontMm, extreme(rim, 0, 1)[2]);
  }
  if (top.coneMm > 0) {
    let highest = -Infinity;
    for (let i = 0; i < positions.length; i += 3) highest = Math.max(highest, n[0] * positions[i] + n[2] * positions[i + 2] - offset);
    add('cone', 'cone above the cut', 0, top.coneMm, highest / n[2]);
  }
  return changes;
}

/** The point that lies furthest along an axis, or (sign −1) furthest back. */
function extreme(points: Float64Array, axis: 0 | 2, sign: 1 | -1): Float64Array {
  let best = 0;
  for (let i = 3; i < points.length; i += 3) if (sign * points[i + axis] > sign * points[best + axis]) best = i;
  return points.subarray(best, best + 3);
}
