import type { Random } from '../random.js';

/** Outward height of the plaster's skin over the clean surface, mm, at a point of the foot frame. */
export type Texture = (x: number, y: number, z: number) => number;

/**
 * The weave of the bandage: two crossing wave trains of 1 to 3 mm whose direction differs from one turn of bandage to the
 * next, with an RMS of about `amplitude` / 2, and a slow change of thickness of up to `thickness` mm over 80 mm and more.
 */
export function bandageWeave(random: Random, amplitude: number, thickness: number): Texture {
  const trains = [0, 1, 2].map(() => {
    const [a, b] = randomPair(random);
    const pitch = (2 * Math.PI) / random.between(1, 3);
    return { a: a.map((c) => c * pitch), b: b.map((c) => c * pitch * random.between(0.7, 1.3)), phase: random.between(0, 6), centre: random.between(0, 260), spread: random.between(30, 80) };
  });
  const slow = [0, 1, 2].map(() => {
    const [a] = randomPair(random);
    return { k: a.map((c) => (c * 2 * Math.PI) / random.between(80, 160)), phase: random.between(0, 6) };
  });
  return (x, y, z) => {
    let sum = 0;
    let weights = 1e-6;
    if (amplitude > 0) {
      for (const t of trains) {
        const u = (x + 0.5 * z - t.centre) / t.spread;
        const w = 1 / (1 + u * u * u * u);
        const p = t.a[0] * x + t.a[1] * y + t.a[2] * z + t.phase + 0.4 * Math.sin(0.21 * x + 0.17 * z);
        const q = t.b[0] * x + t.b[1] * y + t.b[2] * z + 0.4 * Math.sin(0.19 * y - 0.13 * x);
        sum += w * Math.sin(p) * Math.sin(q);
        weights += w;
      }
    }
    let swell = 0;
    if (thickness > 0) for (const s of slow) swell += Math.sin(s.k[0] * x + s.k[1] * y + s.k[2] * z + s.phase) / 3;
    return (amplitude * sum) / weights + thickness * swell;
  };
}

function randomPair(random: Random): [number[], number[]] {
  const raw = (): number[] => {
    const v = [random.normal(0, 1), random.normal(0, 1), random.normal(0, 1)];
    const l = Math.hypot(v[0], v[1], v[2]);
    return v.map((c) => c / l);
  };
  const a = raw();
  const r = raw();
  const along = a[0] * r[0] + a[1] * r[1] + a[2] * r[2];
  const b = r.map((c, k) => c - along * a[k]);
  const l = Math.hypot(b[0], b[1], b[2]);
  return [a, b.map((c) => c / l)];
}
