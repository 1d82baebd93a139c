import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangulateLoop } from '@cast-to-last/geometry/repair/triangulate-loop';
import { gather } from '@cast-to-last/geometry/mesh/gather';
import { evenRing, ringCrosses, smoothRing } from './smooth-ring.js';
import { surfaceSlope } from './surface-slope.js';
import { onPlane } from './top-plane.js';
import type { TopPlane } from './top-plane.js';

export const CONE_DEFAULTS = {
  /** Heights in which a cone that draws in turns upright, mm: the first that keeps the sections from crowding. */
  inward: [30, 23, 17, 13, 10, 7, 5],
  /** The same of one that would flare, mm: the flare stays within a third of this times its slope. */
  outward: 8,
  /** No piece of the last section's outline is shorter than this share of the same piece of the cut's. */
  crowding: 0.4,
  /** Height in which the texture at the cut fades, mm, and the standard deviation of the blur that takes it out. */
  fading: 12,
  blur: 3,
  /** Edge lengths of the cone's own triangles, mm: the surface's, within these. */
  finest: 0.7,
  coarsest: 3,
} as const;

export interface CarriedCone {
  /** The surface with the cone and, at its end, the flat cap. */
  readonly mesh: Mesh;
  /** The flat top's outline, u and v in the plane's axes, turning left seen from above. */
  readonly outline: Float64Array;
  /** Height in which the cone turns upright, mm; 0 where it cannot follow the surface at all and stands upright on the cut. */
  readonly turnsWithin: number;
}

/**
 * The surface carried on upward from its cut edge: sections of the cut's shape that start in the surface's own direction and
 * turn upright, the texture fading out of them, closed flat by a plane that lies `coneMm` straight above the cut.
 *
 * @param open open along `loop` alone
 * @param loop the cut's edge, all of it in `plane`, turning left seen from above
 */
export function carryCone(open: Mesh, loop: Uint32Array, plane: TopPlane, coneMm: number): CarriedCone {
  const base = onPlane(plane, gather(open.positions, loop));
  const spacing = Math.min(CONE_DEFAULTS.coarsest, Math.max(CONE_DEFAULTS.finest, meanEdgeLength(open)));
  const { length } = evenRing(base, 3);
  const around = Math.max(24, Math.round(length / spacing));
  const rows = Math.max(2, Math.ceil(coneMm / (1.5 * spacing)));
  const { points: ring, at } = evenRing(base, around);
  const slope = surfaceSlope(open, plane, ring, length);
  const once = smoothRing(ring, 2, CONE_DEFAULTS.blur / (length / around));
  const twice = smoothRing(once, 2, CONE_DEFAULTS.blur / (length / around));
  // Blurring draws a closed line in; what a second blur takes away is about what the first did.
  const smooth = once.map((c, i) => 2 * c - twice[i]);
  const sections = (turnsWithin: number): Float64Array[] =>
    Array.from({ length: rows }, (_, r) => section({ ring, smooth, slope, turnsWithin }, coneMm, (coneMm * (r + 1)) / rows));
  const turnsWithin = CONE_DEFAULTS.inward.find((height) => nests(smooth, sections(height))) ?? 0;
  const rings = sections(turnsWithin);
  const outline = rings[rows - 1].map((c, i) => (i % 2 === 0 ? c + coneMm * plane.forward[2] : c));
  return { mesh: joined(open, loop, { rings, at, length, plane, coneMm }), outline, turnsWithin };
}

interface Shape { readonly ring: Float64Array; readonly smooth: Float64Array; readonly slope: Float64Array; readonly turnsWithin: number }

/** The section at a height over the cut. */
function section({ ring, smooth, slope, turnsWithin }: Shape, coneMm: number, height: number): Float64Array {
  const fade = Math.min(1, height / Math.min(coneMm, CONE_DEFAULTS.fading));
  const share = fade * fade * (3 - 2 * fade);
  const inward = turning(height, Math.min(coneMm, turnsWithin));
  const outward = turning(height, Math.min(coneMm, turnsWithin, CONE_DEFAULTS.outward));
  const out = new Float64Array(ring.length);
  for (let i = 0; 2 * i < ring.length; i++) {
    const sideways = slope[3 * i + 2] > 0 ? outward : inward;
    for (let k = 0; k < 2; k++) out[2 * i + k] = ring[2 * i + k] + share * (smooth[2 * i + k] - ring[2 * i + k]) + sideways * slope[3 * i + k];
  }
  return out;
}

/** How far a line has gone sideways at a height that starts with slope 1 and is upright from height `within` on. */
function turning(height: number, within: number): number {
  if (within === 0) return 0;
  const left = 1 - Math.min(1, height / within);
  return (within / 3) * (1 - left * left * left);
}

/** Whether no edge of a section has turned round against the smooth cut's, nor the last one's shrunk too far, and that one does not cross itself. */
function nests(smooth: Float64Array, rings: readonly Float64Array[]): boolean {
  const n = smooth.length / 2;
  const last = rings[rings.length - 1];
  for (const upper of rings) {
    const least = upper === last ? CONE_DEFAULTS.crowding : 0;
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      const x = smooth[2 * j] - smooth[2 * i];
      const y = smooth[2 * j + 1] - smooth[2 * i + 1];
      if (x * (upper[2 * j] - upper[2 * i]) + y * (upper[2 * j + 1] - upper[2 * i + 1]) <= least * (x * x + y * y)) return false;
    }
  }
  return !ringCrosses(last);
}

interface Rings { readonly rings: readonly Float64Array[]; readonly at: Float64Array; readonly length: number; readonly plane: TopPlane; readonly coneMm: number }

/** The surface, a strip from its edge to the first ring, strips from ring to ring, and the cap. */
function joined(open: Mesh, loop: Uint32Array, { rings, at, length, plane, coneMm }: Rings): Mesh {
  const first = open.positions.length / 3;
  const around = rings[0].length / 2;
  const positions = new Float64Array(open.positions.length + 3 * around * rings.length);
  positions.set(open.positions);
  const { normal: n, forward: f, offset } = plane;
  rings.forEach((ring, r) => {
    const rise = (coneMm * (r + 1)) / rings.length;
    const h = offset + rise * n[2];
    for (let i = 0; i < around; i++) {
      const at3 = 3 * (first + r * around + i);
      // Straight up by `rise` is f·rise·f.z along the plane and n·rise·n.z out of it.
      const u = ring[2 * i] + rise * f[2];
      positions[at3] = f[0] * u + n[0] * h;
      positions[at3 + 1] = ring[2 * i + 1];
      positions[at3 + 2] = f[2] * u + n[2] * h;
    }
  });
  const faces: number[] = [];
  for (let a = 0, b = 0; a < loop.length || b < around; ) {
    const low = loop[a % loop.length];
    const high = first + (b % around);
    const nextLow = a + 1 < loop.length ? at[a + 1] : length;
    const nextHigh = ((b + 1) * length) / around;
    if (b >= around || (a < loop.length && nextLow <= nextHigh)) faces.push(low, loop[++a % loop.length], high);
    else faces.push(low, first + (++b % around), high);
  }
  for (let r = 0; r + 1 < rings.length; r++) {
    for (let i = 0; i < around; i++) {
      const a = first + r * around + i;
      const b = first + r * around + ((i + 1) % around);
      faces.push(a, b, a + around, b, b + around, a + around);
    }
  }
  const top = first + (rings.length - 1) * around;
  const rim = positions.subarray(3 * top);
  const up = new Float64Array(rim.length);
  for (let i = 0; i < up.length; i++) up[i] = n[i % 3];
  for (const i of triangulateLoop(rim, up).triangles) faces.push(top + i);
  const triangles = new Uint32Array(open.triangles.length + faces.length);
  triangles.set(open.triangles);
  triangles.set(faces, open.triangles.length);
  return { positions, triangles };
}
