import type { Random } from '../random.js';
import type { NearSkin } from './near-skin.js';
import type { ThinPatch } from './wall.js';

/** A hole through the wall: a tube about the skin's normal whose radius changes round it. */
export interface BrokenHole {
  readonly centre: readonly [number, number, number];
  readonly axis: readonly [number, number, number];
  /** mm, over the angle round the axis */
  readonly radius: (angle: number) => number;
}

/** Further from the plane of its rim than this no hole reaches, mm. */
const DEEP = 16;

/** Signed distance from a hole's wall, mm, positive outside it. */
export function outsideHole({ centre, axis, radius }: BrokenHole): (x: number, y: number, z: number) => number {
  const start = Math.abs(axis[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const along = axis[0] * start[0] + axis[1] * start[1] + axis[2] * start[2];
  const raw = start.map((c, k) => c - along * axis[k]);
  const l = Math.hypot(raw[0], raw[1], raw[2]);
  const u = raw.map((c) => c / l);
  const w = [axis[1] * u[2] - axis[2] * u[1], axis[2] * u[0] - axis[0] * u[2], axis[0] * u[1] - axis[1] * u[0]];
  return (x, y, z) => {
    const d = [x - centre[0], y - centre[1], z - centre[2]];
    const depth = Math.abs(d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2]);
    const [a, b] = [d[0] * u[0] + d[1] * u[1] + d[2] * u[2], d[0] * w[0] + d[1] * w[1] + d[2] * w[2]];
    if (depth > DEEP) return 1000;
    return Math.hypot(a, b) - radius(Math.atan2(b, a));
  };
}

export interface WeakPlan {
  readonly thin: number;
  readonly broken: number;
  readonly nominal: number;
  /** Whether a vertex may be the middle of a weak place. */
  readonly free: (vertex: number) => boolean;
}

/** Draws thin areas and holes at places that stand free of each other and of any other part of the skin. */
export function drawWeakPlaces(skin: NearSkin, random: Random, { thin, broken, nominal, free }: WeakPlan): { thin: ThinPatch[]; broken: BrokenHole[] } {
  const { positions: p, normals: n } = skin.mesh;
  const taken: { at: number[]; reach: number }[] = [];
  const place = (reach: number): number | null => {
    for (let attempt = 0; attempt < 400; attempt++) {
      const v = random.whole(0, p.length / 3 - 1);
      const at = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
      if (!free(v) || taken.some((t) => Math.hypot(...t.at.map((c, k) => c - at[k])) < t.reach + reach)) continue;
      const over = at.map((c, k) => c + 18 * n[3 * v + k]);
      if (skin.distance(over[0], over[1], over[2]) < 17.5) continue;
      taken.push({ at, reach: reach + 6 });
      return v;
    }
    return null;
  };
  const out: { thin: ThinPatch[]; broken: BrokenHole[] } = { thin: [], broken: [] };
  const point = (from: Float64Array, v: number): [number, number, number] => [from[3 * v], from[3 * v + 1], from[3 * v + 2]];
  for (let i = 0; i < thin; i++) {
    const rim = random.between(12, 24);
    const v = place(rim);
    if (v !== null) out.thin.push({ centre: point(p, v), rim, least: Math.max(0.4, nominal * random.between(0.12, 0.4)) });
  }
  for (let i = 0; i < broken; i++) {
    const size = random.between(3, 12);
    const lobes = random.whole(2, 5);
    const phase = random.between(0, 6);
    const v = place(1.3 * size);
    if (v !== null) out.broken.push({ centre: point(p, v), axis: point(n, v), radius: (angle) => size * (1 + 0.18 * Math.sin(lobes * angle + phase)) });
  }
  return out;
}
