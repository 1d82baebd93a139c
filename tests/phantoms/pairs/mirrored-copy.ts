import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { makePhantom } from '../make-phantom.js';
import type { PhantomOptions } from '../phantom-options.js';
import type { Position } from '../position/position.js';
import { randomFrom } from '../random.js';

/** Two scans of one foot, the first mirrored and moved a little, as foot frames are off; and where its points truly lie on the second. */
export interface MirroredCopy {
  /** A left foot. */
  readonly first: Mesh;
  /** A right foot in its foot frame, cut off at a slant at another height. */
  readonly second: Mesh;
  readonly footLength: number;
  /** For each vertex of the first, where a perfect registration takes it; x, y, z. */
  readonly truth: Float64Array;
}

export interface CopyOptions {
  readonly triangles?: readonly [number, number];
  readonly noise?: readonly [number, number];
  /** Marks on the second alone; the first is smooth. */
  readonly marks?: boolean;
  /** How the two casts stood: a difference that must not steer. */
  readonly positions?: readonly [Position, Position];
}

const PLAIN = { posed: false, debris: false, missingSole: false, holes: 0, unit: 'mm', top: 'cut', rise: 90 } as const satisfies PhantomOptions;
const SMOOTH = { dents: 0, bumps: 0, ridges: 0, seam: false } as const satisfies PhantomOptions;
const MARKED = { dents: 8, bumps: 4, ridges: 3, seam: true } as const satisfies PhantomOptions;

/** The same seed and options give the same pair bit for bit. */
export function mirroredCopy(seed: number, { triangles = [40_000, 40_000], noise = [0.02, 0.02], marks = false, positions }: CopyOptions = {}): MirroredCopy {
  const a = makePhantom(seed, { ...PLAIN, ...SMOOTH, side: 'left', triangles: triangles[0], noise: noise[0], position: positions?.[0] });
  const b = makePhantom(seed, { ...PLAIN, ...(marks ? MARKED : SMOOTH), side: 'right', triangles: triangles[1], noise: noise[1], position: positions?.[1] });
  const random = randomFrom(seed, 'mirrored copy');
  const off = smallMotion([0, 1, 2].map(() => random.between(-0.05, 0.05)), [0, 1, 2].map(() => random.between(-4, 4)));
  const slant = [random.between(-0.25, 0.25), random.between(-0.25, 0.25), random.between(80, 110)];
  return {
    first: transformMesh(off, a.scan),
    second: below(b.scan, slant),
    footLength: b.truth.landmarks.footLength,
    truth: a.scan.positions.map((c, i) => (i % 3 === 1 ? -c : c)),
  };
}

/** Turns about x, y, z in radians, then a shift. */
function smallMotion([a, b, c]: readonly number[], [x, y, z]: readonly number[]): Transform {
  const [ca, sa, cb, sb, cc, sc] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b), Math.cos(c), Math.sin(c)];
  return Float64Array.of(
    cc * cb, cc * sb * sa - sc * ca, cc * sb * ca + sc * sa, x,
    sc * cb, sc * sb * sa + cc * ca, sc * sb * ca - cc * sa, y,
    -sb, cb * sa, cb * ca, z,
    0, 0, 0, 1,
  );
}

/** The triangles wholly under the plane z = c + a·x + b·y, with the vertices that they use. */
function below({ positions: p, triangles: t }: Mesh, [a, b, c]: readonly number[]): Mesh {
  const number = new Int32Array(p.length / 3).fill(-1);
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const corners = [t[i], t[i + 1], t[i + 2]];
    if (corners.some((v) => p[3 * v + 2] > c + a * p[3 * v] + b * p[3 * v + 1])) continue;
    for (const v of corners) {
      if (number[v] < 0) {
        number[v] = positions.length / 3;
        positions.push(p[3 * v], p[3 * v + 1], p[3 * v + 2]);
      }
      triangles.push(number[v]);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** Root mean square and greatest distance between where points were laid and where they truly lie, mm. */
export function laidError(laid: Float64Array, truth: Float64Array): { rms: number; most: number } {
  let sum = 0;
  let most = 0;
  for (let i = 0; i < laid.length; i += 3) {
    const d = Math.hypot(laid[i] - truth[i], laid[i + 1] - truth[i + 1], laid[i + 2] - truth[i + 2]);
    sum += d * d;
    most = Math.max(most, d);
  }
  return { rms: Math.sqrt((3 * sum) / laid.length), most };
}
