import { cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal, triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import { thinOut } from '@cast-to-last/geometry/remeshing/thin-out';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { dot } from '@cast-to-last/geometry/numerics/vectors';
import type { SettledFrame } from '@cast-to-last/foot/frame';
import { settleFrame } from '@cast-to-last/foot/frame';
import type { Opening, Pose } from '@cast-to-last/foot/orientation';
import { likelyPoses, scorePose } from '@cast-to-last/foot/orientation';
import type { Side } from '@cast-to-last/foot/side';
import { otherSide } from '@cast-to-last/foot/side';
import type { SideEvidence } from '@cast-to-last/foot/side-evidence';
import { sideEvidence } from '@cast-to-last/foot/side-evidence';
import { findLandmarks } from '@cast-to-last/foot/find-landmarks';
import { CastError } from '../errors.js';
import type { AlignedCast, RepairedCast, ScanKind } from '../records.js';
import { flatTop } from '../repair/flat-top.js';

export const ALIGN = {
  /** Vertex spacing at which the pose is found, mm; `measure` settles the frame on the whole surface. */
  spacing: 2,
  /** Cells along the diagonal for the even points that poses are scored on. */
  poseCells: 34,
  poses: 6,
  /** A best pose whose shape has a greater misfit is no foot. */
  worstMisfit: 36,
  /** Feet are this long, mm; a shape like a foot of another size is something else. */
  shortest: 110,
  longest: 380,
  /** A flat top faces up at least so much (cosine); a pose in which it faces elsewhere fits worse by the square over the tolerance, up to 9. */
  flatTopUp: 0.5,
  flatTopTolerance: 0.3,
  mostForFlatTop: 9,
  /** Side evidence beyond this against the declared side is a contradiction; the scale is −1 to 1. */
  contradiction: 0.25,
} as const;

export interface AlignOptions {
  /** Take the operator's word for the side even where the shape speaks against it. */
  readonly overrideSide?: boolean;
  /** What was scanned; the inside of a shell may come mirrored. Positive where absent. */
  readonly kind?: ScanKind;
}

/**
 * Puts a repaired cast into the foot frame from any pose: toe end, up and side are found from its shape.
 *
 * @throws CastError `not-a-foot` where no pose looks like a foot, `side-contradiction` where the shape is of the other side
 */
export function alignCast(cast: RepairedCast, side: Side, options: AlignOptions = {}): AlignedCast {
  const { mesh, cellOf, twin, pose, signs } = standUp(cast, side);
  const evidence = side === 'right' ? signs.verdict : -signs.verdict;
  const warnings: string[] = [];
  if (evidence < -ALIGN.contradiction) {
    const shown = otherSide(side);
    if (options.overrideSide !== true) {
      if (options.kind === 'inside') throw insideMirrored(side, cast);
      throw new CastError(
        'side-contradiction',
        `The scan was booked in as a ${side} foot, but its shape is that of a ${shown} foot.`,
        `Check the label on the cast; process it with --side ${shown}, or with --override-side if it truly is a ${side} one.`,
      );
    }
    warnings.push(`The shape looks like a ${shown} foot; it is treated as ${side} because the operator said so.`);
  } else if (evidence < ALIGN.contradiction) {
    warnings.push(`The shape does not tell left from right clearly; it is treated as ${side}, as declared.`);
  }
  const settled = settleFrame(mesh, twin, side, pose);
  if (settled === null) throw notAFoot();
  const { footLength } = settled.landmarks;
  if (footLength < ALIGN.shortest || footLength > ALIGN.longest) throw notAFoot();
  if (!settled.settled) warnings.push('The foot frame did not come to rest; the mean of its last states is used.');
  const standing = transformMesh(settled.transform, cast.mesh);
  const filled = cellsWith(cast.filled, cellOf, mesh.positions.length / 3);
  const landmarks = findLandmarks({ mesh: transformMesh(settled.transform, mesh), twin, filled }, side, wholeTo(standing, cast.opening));
  if (landmarks === null) throw notAFoot();
  return {
    mesh: standing,
    opening: cast.opening,
    filled: cast.filled,
    side,
    transform: settled.transform,
    landmarks,
    warnings,
  };
}

/** A cast on a surface of about `ALIGN.spacing`, the pose in which it stands, and what then tells left from right. */
export interface StandingUp {
  readonly mesh: Mesh;
  /** Vertex of `mesh` that each vertex of the cast became. */
  readonly cellOf: Uint32Array;
  readonly twin: Int32Array;
  readonly pose: Transform;
  readonly signs: SideEvidence;
}

/**
 * Finds the pose in which a cast stands as a foot.
 *
 * @param side whose frame the pose is first settled in; the signs are read in those of both
 * @throws CastError `not-a-foot`
 */
export function standUp(cast: RepairedCast, side: Side): StandingUp {
  const opening = cast.opening === null ? null : describeOpening(cast.mesh, cast.opening);
  const { mesh, cellOf } = coarsen(cast.mesh, ALIGN.spacing, rememberedNeighbours(cast.mesh));
  const twin = twins(mesh);
  const points = thinOut(mesh.positions, diagonal(mesh.positions) / ALIGN.poseCells);
  const poses = likelyPoses(points, opening, ALIGN.poses);
  const pose = bestPose({ mesh, twin, points, opening, whole: cast.mesh }, poses, side);
  return { mesh, cellOf, twin, pose, signs: weighSides(mesh, twin, pose, side) };
}

/** The height up to which the surface is whole all round: the lowest point of the opening's edge. */
export function wholeTo(standing: Mesh, opening: Uint32Array | null): number {
  if (opening === null) return Infinity;
  let lowest = Infinity;
  for (const v of opening) lowest = Math.min(lowest, standing.positions[3 * v + 2]);
  return lowest;
}

/** The inside of a shell shows the other foot: booked in as the wrong one, or mirrored on its way out of the scanning program. */
function insideMirrored(side: Side, { mesh, repairs }: RepairedCast): CastError {
  // Seen from inside, triangles face into the hollow; facing out, somebody turned them over, which mirroring does as well.
  const facedOut = repairs.trianglesFlipped < triangleCount(mesh) / 2;
  return new CastError(
    'side-contradiction',
    `The inside of the shell was booked in as a ${side} foot, but its shape is that of a ${otherSide(side)} foot${facedOut ? ', and its triangles face outward: the scanning program most likely mirrored it' : ''}.`,
    `Check the label on the shell; if it is the ${side} one, export the scan again without mirroring, or with its normals turned instead.`,
  );
}

const notAFoot = (): CastError =>
  new CastError(
    'not-a-foot',
    'No way of standing this scan up makes a foot of it.',
    'Check that the file is the scan of one whole foot cast, with heel, ball and toes. Cut away what hangs on it: supports, pegs, a clamp, the table. Scan again if parts are missing.',
  );

/** The centre of the opening, and its normal out of the cast (Newell's formula over the loop). */
function describeOpening(mesh: Mesh, loop: Uint32Array): Opening {
  const p = mesh.positions;
  const centre: [number, number, number] = [0, 0, 0];
  const normal = [0, 0, 0];
  loop.forEach((v, i) => {
    const w = loop[(i + 1) % loop.length];
    for (let k = 0; k < 3; k++) {
      centre[k] += p[3 * v + k] / loop.length;
      const a = (k + 1) % 3;
      const b = (k + 2) % 3;
      normal[k] += p[3 * v + a] * p[3 * w + b] - p[3 * v + b] * p[3 * w + a];
    }
  });
  // Boundary halfedges run with the surface on their left, so the loop's own normal points into the cast.
  const length = -Math.hypot(normal[0], normal[1], normal[2]);
  return { centre, normal: [normal[0] / length, normal[1] / length, normal[2] / length] };
}

/** What poses are weighed on. */
interface Posed {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  readonly points: Float64Array;
  readonly opening: Opening | null;
  /** The surface on which the flat face that closes the top is looked for, where there is no opening. */
  readonly whole: Mesh;
}

/** Settles each likely pose and takes the one that then fits best, a flat top facing up. The top is looked for only where it decides. */
function bestPose({ mesh, twin, points, opening, whole }: Posed, poses: Pose[], side: Side): Transform {
  let best: Pose | null = null;
  let top: readonly number[] | null | undefined;
  const most = opening === null ? ALIGN.mostForFlatTop : 0;
  const withTop = ({ transform, misfit }: Pose): number => {
    if (top === undefined) top = flatTop(whole);
    return misfit + misfitOfTop(transform, top);
  };
  for (const pose of poses) {
    if (best !== null && pose.misfit > 2 * best.misfit + 20 && (pose.misfit > 2 * (best.misfit + most) + 20 || pose.misfit > 2 * withTop(best) + 20)) continue;
    const settled: SettledFrame | null = settleFrame(mesh, twin, side, pose.transform);
    if (settled === null) continue;
    const { transform } = settled;
    const next: Pose = { transform, misfit: misfitOf(points, transform, opening) };
    if (best === null || next.misfit + most < best.misfit || (next.misfit < best.misfit + most && withTop(next) < withTop(best))) best = next;
  }
  // Where the opening was mistaken, toes of a thin shell say, the shape still tells a foot.
  if (best === null || misfitOf(points, best.transform, null) > ALIGN.worstMisfit) throw notAFoot();
  return best.transform;
}

const misfitOf = (points: Float64Array, transform: Transform, opening: Opening | null): number =>
  scorePose(points, transform.subarray(0, 3), transform.subarray(8, 11), opening).misfit;

/** What a pose in which a flat top does not face up is worse by. */
function misfitOfTop(transform: Transform, top: readonly number[] | null): number {
  if (top === null) return 0;
  const short = Math.max(0, ALIGN.flatTopUp - dot(transform.subarray(8, 11), top));
  return Math.min(ALIGN.mostForFlatTop, (short / ALIGN.flatTopTolerance) ** 2);
}

/** What tells left from right, seen in the frames of both sides: the mean of what each shows, 0 where neither can be settled. */
function weighSides(mesh: Mesh, twin: Int32Array, pose: Transform, side: Side): SideEvidence {
  const seen: SideEvidence[] = [];
  for (const assumed of [side, otherSide(side)]) {
    const settled = settleFrame(mesh, twin, assumed, pose);
    if (settled === null) continue;
    const standing = transformMesh(settled.transform, mesh);
    seen.push(sideEvidence(standing.positions, settled.landmarks.footLength));
  }
  const mean = (values: readonly number[]): number => (values.length === 0 ? 0 : values.reduce((sum, v) => sum + v, 0) / values.length);
  return {
    signs: (seen[0]?.signs ?? []).map(({ name }, i) => ({ name, value: mean(seen.map(({ signs }) => signs[i].value)) })),
    verdict: mean(seen.map(({ verdict }) => verdict)),
  };
}
