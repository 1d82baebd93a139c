/**
 * A smooth function of space, negative inside the foot. It is not a distance, but its slope is at most about 1.4
 * everywhere and at least 0.1 near its zero set, where it is at least twice differentiable.
 */
export type Field = (x: number, y: number, z: number) => number;

/** Smooth maximum with compact support (twice differentiable): rounds the edge between two surfaces over a width of about `k`. */
export function smoothMax(a: number, b: number, k: number): number {
  const d = Math.abs(a - b);
  const m = a > b ? a : b;
  if (d >= k) return m;
  const h = 1 - d / k;
  return m + h * h * h * (4 - h) * k / 16;
}

export const smoothMin = (a: number, b: number, k: number): number => -smoothMax(-a, -b, k);

/** Smooth minimum without an end to its reach (infinitely differentiable): −k·log(e^(−a/k) + e^(−b/k)). */
export const meltTogether = (a: number, b: number, k: number): number => Math.min(a, b) - k * Math.log1p(Math.exp(-Math.abs(a - b) / k));

/** 0 before `from`, 1 after `to`, twice differentiable between. */
export function smoothStep(from: number, to: number, v: number): number {
  const t = (v - from) / (to - from);
  if (t <= 0) return 0;
  if (t >= 1) return 1;
  return t * t * t * (t * (6 * t - 15) + 10);
}

/** A bell of height 1 at `centre`, `exp(−½ ((v − centre)/sd)²)`. */
export const bell = (v: number, centre: number, sd: number): number => {
  const u = (v - centre) / sd;
  return Math.exp(-0.5 * u * u);
};

/** A tapered limb from `from` to `to`; ends are rounded smoothly. `squash` scales its cross-section in y and z. */
export interface Limb {
  readonly from: readonly [number, number, number];
  readonly to: readonly [number, number, number];
  readonly radii: readonly [number, number];
  readonly squash?: readonly [number, number];
}

const STRIDE = 17;
/** How gradually a limb's radius and axis come to their ends, mm. */
const END_WIDTH = 5;
/** Limbs whose share in the union is below e^−15 are left out: less than 2e-6 mm. */
const NEGLIGIBLE = 15;

/**
 * The smooth union of limbs: −k·log Σ exp(−d/k). Infinitely differentiable (to 2e-6 mm), and the order of the limbs does
 * not matter. `k` in mm: how widely neighbours melt together.
 */
export function limbUnion(limbs: readonly Limb[], k: number): Field {
  const n = limbs.length;
  const table = new Float64Array(n * STRIDE);
  limbs.forEach((limb, i) => {
    const [ey, ez] = limb.squash ?? [1, 1];
    const v = limb.to.map((c, axis) => c - limb.from[axis]);
    const vy = v[1] / ey;
    const vz = v[2] / ez;
    const lengthSquared = v[0] * v[0] + vy * vy + vz * vz;
    // A ball round the limb, and how much a squashed distance may exceed a true one.
    const reach = Math.hypot(v[0], v[1], v[2]) / 2 + Math.max(...limb.radii) * Math.max(1, ey, ez) + 1;
    table.set([
      ...limb.from, v[0], vy, vz, 1 / Math.max(lengthSquared, 1e-9), limb.radii[0], limb.radii[1] - limb.radii[0], 1 / ey, 1 / ez,
      lengthSquared < 1e-6 ? 0 : 1, END_WIDTH ** 2 / Math.max(lengthSquared, 1e-9),
      limb.from[0] + v[0] / 2, limb.from[1] + v[1] / 2, limb.from[2] + v[2] / 2, reach,
    ], i * STRIDE);
  });
  const stretch = Math.max(1, ...limbs.flatMap((limb) => limb.squash ?? []));
  const distances = new Float64Array(n);
  const cut = NEGLIGIBLE * k;
  const distance = (o: number, x: number, y: number, z: number): number => {
    const dx = x - table[o];
    const dy = (y - table[o + 1]) * table[o + 9];
    const dz = (z - table[o + 2]) * table[o + 10];
    const vx = table[o + 3];
    const vy = table[o + 4];
    const vz = table[o + 5];
    const raw = (dx * vx + dy * vy + dz * vz) * table[o + 6];
    const w2 = table[o + 12];
    const t = table[o + 11] * 0.5 * (1 + Math.sqrt(raw * raw + w2) - Math.sqrt((raw - 1) * (raw - 1) + w2));
    const ex = dx - t * vx;
    const ey = dy - t * vy;
    const ez = dz - t * vz;
    return Math.sqrt(ex * ex + ey * ey + ez * ez + 1e-6) - table[o + 7] - t * table[o + 8];
  };
  let nearest = 0;
  return (x, y, z) => {
    // The limb that was nearest last time bounds what is worth looking at.
    let least = distance(nearest * STRIDE, x, y, z);
    for (let i = 0, o = 0; i < n; i++, o += STRIDE) {
      const cx = x - table[o + 13];
      const cy = y - table[o + 14];
      const cz = z - table[o + 15];
      const limit = stretch * (least + cut) + table[o + 16];
      if (limit > 0 && cx * cx + cy * cy + cz * cz > limit * limit) {
        distances[i] = Infinity;
        continue;
      }
      const d = distance(o, x, y, z);
      distances[i] = d;
      if (d < least) {
        least = d;
        nearest = i;
      }
    }
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const over = distances[i] - least;
      if (over < cut) sum += Math.exp(-over / k);
    }
    return least - k * Math.log(sum);
  };
}

/** Gradient by forward differences (0.1 µm), written to `out`; returns the value. mm in, per mm out. */
export function gradient(field: Field, x: number, y: number, z: number, out: Float64Array): number {
  const h = 1e-4;
  const value = field(x, y, z);
  out[0] = (field(x + h, y, z) - value) / h;
  out[1] = (field(x, y + h, z) - value) / h;
  out[2] = (field(x, y, z + h) - value) / h;
  return value;
}
