/** A seeded stream of random numbers (sfc32): the same seed gives the same stream on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  next(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Normal, by Box and Muller. */
  normal(mean: number, sd: number): number;
  /** Normal, drawn again until it lies within ± `limit` standard deviations. */
  normalWithin(mean: number, sd: number, limit: number): number;
  /** Whole number in [low, high]. */
  whole(low: number, high: number): number;
  chance(probability: number): boolean;
  pick<T>(items: readonly T[]): T;
  /** A stream of its own for one subject, so that an option changed for one subject leaves the others as they were. */
  fork(subject: string): Random;
}

function hash(text: string, start: number): number {
  let h = start ^ 0x9e3779b9;
  for (let i = 0; i < text.length; i++) {
    h = Math.imul(h ^ text.charCodeAt(i), 0x85ebca6b);
    h = (h << 13) | (h >>> 19);
    h = Math.imul(h ^ (h >>> 16), 0xc2b2ae35);
  }
  return h >>> 0;
}

export function randomFrom(seed: number, subject = ''): Random {
  let a = hash(`${seed}/${subject}/a`, 1);
  let b = hash(`${seed}/${subject}/b`, 2);
  let c = hash(`${seed}/${subject}/c`, 3);
  let d = 1;
  const next = (): number => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + t | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 16; i++) next();
  const normal = (mean: number, sd: number): number => {
    const u = 1 - next();
    return mean + sd * Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * next());
  };
  return {
    next,
    normal,
    between: (low, high) => low + (high - low) * next(),
    normalWithin: (mean, sd, limit) => {
      let v = normal(mean, sd);
      while (Math.abs(v - mean) > limit * sd) v = normal(mean, sd);
      return v;
    },
    whole: (low, high) => low + Math.floor(next() * (high - low + 1)),
    chance: (probability) => next() < probability,
    pick: (items) => items[Math.floor(next() * items.length)],
    fork: (name) => randomFrom(seed, `${subject}/${name}`),
  };
}
