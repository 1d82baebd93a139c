import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import { ARCH, archSole } from './arch-sole.js';
import { breadthBelow } from './breadth-below.js';
import { FRAME } from './frame.js';
import type { Wrapped } from './girths.js';
import type { Point } from './landmarks.js';
import type { Side } from './side.js';
import { medialSign } from './side.js';

export interface ArchHeight {
  readonly height: number;
  /** How far the height changes with the limit of the sole within its doubt, and where the surface is averaged half as far, mm. */
  readonly slide: number;
  readonly at: Point;
  readonly onFilled: number;
}

/**
 * The greatest height of the sole on the medial third of the arch: of the surface there as far as it faces down within 45°.
 * How it faces is read between the normals of vertices, of a surface averaged against its noise (a scale in mm, whatever the triangles).
 *
 * @param roughness standard deviation of the surface along its normal, mm
 * @returns null where no sole is found there
 */
export function archHeight(surface: Wrapped, footLength: number, side: Side, roughness = 0): ArchHeight | null {
  const { mesh, twin, normals, halfAveraged } = archSole(surface, footLength, roughness);
  const judges = [
    new Highest(mesh, normals, ARCH.facingDeg),
    new Highest(mesh, normals, ARCH.facingDeg - ARCH.doubtDeg),
    new Highest(mesh, normals, ARCH.facingDeg + ARCH.doubtDeg),
    new Highest(mesh, halfAveraged, ARCH.facingDeg),
  ];
  const m = medialSign(side);
  // A fold in the leg or in the cap of a closed top may face down as well, but no sole lies as high as that.
  const ceiling = FRAME.heelCeiling * footLength;
  for (let k = 0; k <= ARCH.steps; k++) {
    const share = ARCH.from + (k / ARCH.steps) * (ARCH.to - ARCH.from);
    const curves = section(mesh, twin, [1, 0, 0], share * footLength);
    const ends = breadthBelow(curves, ceiling);
    if (ends === null) continue;
    const medialEdge = m > 0 ? ends[1] : -ends[0];
    const within: Within = { side: m, from: medialEdge - (ends[1] - ends[0]) / 3, to: medialEdge, ceiling };
    for (const curve of curves) for (const judge of judges) judge.look(curve, within);
  }
  const [best, less, more, half] = judges;
  if (best.at === null) return null;
  const { height } = best;
  const range = (more.height - Math.max(0, less.height)) / 2;
  const made = surface.filled;
  const corners = [0, 1, 2].map((c) => mesh.triangles[3 * best.triangle + c]);
  return { height, slide: Math.hypot(range, Math.max(0, half.height) - height), at: best.at, onFilled: corners.reduce((sum, v) => sum + made[v], 0) / 3 };
}

/** The stretch of a section in which the sole counts: `side` · y between two values, z up to a ceiling. */
interface Within {
  readonly side: number;
  readonly from: number;
  readonly to: number;
  readonly ceiling: number;
}

/** The highest place that faces down as far as a limit, of all curves that are looked at. */
class Highest {
  height = -Infinity;
  at: Point | null = null;
  triangle = -1;
  private readonly mesh: Mesh;
  private readonly normals: Float64Array;
  private readonly facing: number;

  constructor(mesh: Mesh, normals: Float64Array, limitDeg: number) {
    this.mesh = mesh;
    this.normals = normals;
    this.facing = Math.cos((limitDeg * Math.PI) / 180);
  }

  look({ points, triangles, closed }: SectionCurve, { side, from, to, ceiling }: Within): void {
    const count = points.length / 3;
    for (let i = 0; i < (closed ? count : count - 1); i++) {
      const a = 3 * i;
      const b = 3 * ((i + 1) % count);
      const ya = side * points[a + 1];
      const yb = side * points[b + 1];
      const za = points[a + 2];
      const zb = points[b + 2];
      if (Math.max(za, zb) <= this.height || Math.min(za, zb) > ceiling || Math.max(ya, yb) < from || Math.min(ya, yb) > to) continue;
      const faces = [this.down(points, a, triangles[i]), this.down(points, b, triangles[i])];
      const part = stretch([[faces[0] - this.facing, faces[1] - this.facing], [ya - from, yb - from], [to - ya, to - yb], [ceiling - za, ceiling - zb]]);
      if (part === null) continue;
      const s = zb > za ? part[1] : part[0];
      const z = za + s * (zb - za);
      if (z <= this.height) continue;
      this.height = z;
      this.at = [points[a] + s * (points[b] - points[a]), points[a + 1] + s * (points[b + 1] - points[a + 1]), z];
      this.triangle = triangles[i];
    }
  }

  /** How far the surface faces down at a point of a triangle: the cosine, by the normals of its corners. */
  private down(points: Float64Array, i: number, triangle: number): number {
    const { positions: p, triangles: t } = this.mesh;
    const a = 3 * t[3 * triangle];
    const b = 3 * t[3 * triangle + 1];
    const c = 3 * t[3 * triangle + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const wx = points[i] - p[a];
    const wy = points[i + 1] - p[a + 1];
    const wz = points[i + 2] - p[a + 2];
    const uu = ux * ux + uy * uy + uz * uz;
    const uv = ux * vx + uy * vy + uz * vz;
    const vv = vx * vx + vy * vy + vz * vz;
    const area = uu * vv - uv * uv;
    if (!(area > 0)) return -1;
    const wu = wx * ux + wy * uy + wz * uz;
    const wv = wx * vx + wy * vy + wz * vz;
    const beta = (vv * wu - uv * wv) / area;
    const gamma = (uu * wv - uv * wu) / area;
    const n = this.normals;
    const at = (k: number): number => (1 - beta - gamma) * n[a + k] + beta * n[b + k] + gamma * n[c + k];
    return -at(2) / Math.hypot(at(0), at(1), at(2));
  }
}

/** The stretch (0 to 1) of a segment in which all of some values that run evenly from one end to the other are at least 0; null where there is none. */
function stretch(values: readonly (readonly [number, number])[]): [number, number] | null {
  let low = 0;
  let high = 1;
  for (const [a, b] of values) {
    if (a < 0 && b < 0) return null;
    if (a < 0) low = Math.max(low, a / (a - b));
    if (b < 0) high = Math.min(high, a / (a - b));
  }
  return low <= high ? [low, high] : null;
}
