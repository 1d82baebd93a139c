import { smoothStep } from '../surface/implicit.js';
import type { Flap } from './open-cut.js';
import { HALF, type Sections } from './sections.js';

/** How much of the bending happens at a place half-way round: 0 at the cut, 1 opposite. */
export type BendShare = (turn: number) => number;

/** What the opening does to a point of the skin: shift in the section's plane and its turn there, from medial to up. */
export interface Shift {
  y: number;
  off: number;
  angle: number;
}

/** No flap bends more than this share above or below the mean of both. */
const MOST_LEAN = 0.6;
/** Over this length beside the cut the flaps are brought level where they are still not of one height, mm. */
const LEVELLING = 40;

/**
 * Both flaps bent open (or shut) without stretching, section by section, until their edges stand `gap` mm apart along the
 * skin (negative: over each other), at one height; the line opposite the cut stays. The girth of each section changes by
 * the gap.
 */
export class Opening {
  readonly #sections: Sections;
  /** y, off, angle of point k of half h of section i at 3·((2i + h)·(HALF + 1) + k). */
  readonly #table: Float64Array;

  constructor(sections: Sections, gap: (along: number) => number, bend: BendShare) {
    this.#sections = sections;
    this.#table = new Float64Array(sections.count * 6 * (HALF + 1));
    const row = 2 * (HALF + 1);
    for (let i = 0; i < sections.count; i++) {
      const e = gap(sections.first + 3 * i);
      if (e === 0) continue;
      const points = sections.points.subarray(i * 2 * row, (i + 1) * 2 * row);
      const [medial, lateral] = [points.subarray(0, row), points.subarray(row)];
      const across = [medial[2] - lateral[2], medial[3] - lateral[3]];
      const l = Math.hypot(across[0], across[1]);
      const [ty, to] = [across[0] / l, across[1] / l];
      // One flap may bend more than the other, by `lean` of what both do.
      const apart = (amount: number, lean: number): { m: Float64Array; s: Float64Array; gap: number; step: number; uy: number; uo: number } => {
        const m = bent(medial, amount * (1 + lean), -1, bend);
        const s = bent(lateral, amount * (1 - lean), 1, bend);
        const [dy, dOff] = [m[0] - s[0], m[1] - s[1]];
        // Along and across the skin as it lies between the edges afterwards.
        const turn = (m[2] + s[2]) / 2;
        const [uy, uo] = [Math.cos(turn) * ty - Math.sin(turn) * to, Math.sin(turn) * ty + Math.cos(turn) * to];
        return { m, s, gap: dy * uy + dOff * uo, step: -dy * uo + dOff * uy, uy, uo };
      };
      const opened = (lean: number): ReturnType<typeof apart> => apart(rootOf((amount) => apart(amount, lean).gap - e, 0, e / 100), lean);
      const lean = Math.max(-MOST_LEAN, Math.min(MOST_LEAN, rootOf((l) => opened(Math.max(-1, Math.min(1, l))).step, 0, 0.1)));
      const { m, s, step, uy, uo } = opened(lean);
      const half = sections.halfLength[i];
      [m, s].forEach((shift, h) => {
        for (let k = 0; k <= HALF; k++) {
          const fade = 0.5 * (h === 0 ? -1 : 1) * step * (1 - smoothStep(0, LEVELLING, (k / HALF) * half));
          shift[3 * k] -= fade * uo;
          shift[3 * k + 1] += fade * uy;
        }
        this.#table.set(shift, (2 * i + h) * 3 * (HALF + 1));
      });
    }
  }

  at(along: number, turn: number, flap: Flap, into: Shift): Shift {
    const { i, share } = this.#sections.between(along);
    const k = Math.min(HALF - 1e-9, Math.abs(turn) * HALF);
    const c = Math.floor(k);
    const s = k - c;
    const half = flap === 1 ? 0 : 1;
    const value = (m: number): number => {
      const a = 3 * ((2 * i + half) * (HALF + 1) + c) + m;
      const b = a + 6 * (HALF + 1);
      const [near, far] = [this.#table[a] + s * (this.#table[a + 3] - this.#table[a]), this.#table[b] + s * (this.#table[b + 3] - this.#table[b])];
      return near + share * (far - near);
    };
    into.y = value(0);
    into.off = value(1);
    into.angle = value(2);
    return into;
  }
}

/** Where `f` is 0, from two guesses, by secants. */
function rootOf(f: (v: number) => number, a: number, b: number): number {
  let [v0, v1] = [a, b];
  let [f0, f1] = [f(v0), f(v1)];
  for (let round = 0; round < 10 && Math.abs(f1) > 1e-6 && f1 !== f0; round++) {
    const v2 = v1 - (f1 * (v1 - v0)) / (f1 - f0);
    [v0, f0] = [v1, f1];
    v1 = v2;
    f1 = f(v1);
  }
  return v1;
}

/** Shift and turn of every point of a half whose curvature changes by `amount` × share; the last point stays. `way` 1 turns from medial to up. */
function bent(half: Float64Array, amount: number, way: 1 | -1, bend: BendShare): Float64Array {
  const out = new Float64Array(3 * (HALF + 1));
  let angle = 0;
  let [y, off] = [half[2 * HALF], half[2 * HALF + 1]];
  for (let k = HALF - 1; k >= 0; k--) {
    const [ey, eo] = [half[2 * k] - half[2 * k + 2], half[2 * k + 1] - half[2 * k + 3]];
    angle += (way * amount * bend((k + 0.5) / HALF)) / HALF;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    y += c * ey - s * eo;
    off += s * ey + c * eo;
    out.set([y - half[2 * k], off - half[2 * k + 1], angle], 3 * k);
  }
  return out;
}
