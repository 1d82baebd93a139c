import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { cut } from '../reference/cut.js';
import { closedLines } from './section-loop.js';
import type { BySpine, Spine } from './spine.js';

/** Points of a half section, from the cut (0) to the sole line (HALF). */
export const HALF = 96;
const PITCH = 3;

/** A place on the skin by the cut: mm along the spine, and round the section: 0 at the cut, 1 and −1 half-way round; mm from the cut, medial positive. */
export interface ByCut {
  along: number;
  turn: number;
  across: number;
}

/**
 * Sections of the skin along the spine, each from the cut round both halves to the line opposite. `course` gives how far
 * medially of the midline the cut runs.
 */
export class Sections {
  readonly spine: Spine;
  readonly first: number;
  readonly count: number;
  /** y, off of point k of half h (0 medial, 1 lateral) of section i at 2·((2i + h)·(HALF + 1) + k). */
  readonly points: Float64Array;
  /** Length of a half, mm, by section. */
  readonly halfLength: Float64Array;
  readonly #by: BySpine = { along: 0, off: 0 };

  constructor(mesh: Mesh, spine: Spine, from: number, to: number, course: (along: number) => number) {
    this.spine = spine;
    this.first = from;
    const rows: Float64Array[] = [];
    const lengths: number[] = [];
    for (let along = from; along <= to; along += PITCH) {
      const half = halves(mesh, spine, along, course(along));
      if (!half) break;
      rows.push(half.points);
      lengths.push(half.length);
    }
    this.count = rows.length;
    if (this.count < 20) throw new Error('the foot has no sections to cut it open along');
    this.halfLength = Float64Array.from(lengths);
    this.points = new Float64Array(rows.length * 4 * (HALF + 1));
    rows.forEach((row, i) => this.points.set(row, i * 4 * (HALF + 1)));
  }

  get last(): number {
    return this.first + (this.count - 1) * PITCH;
  }

  /** Section number and share towards the next of a place along the spine. */
  between(along: number): { i: number; share: number } {
    const t = Math.min(this.count - 1.0001, Math.max(0, (along - this.first) / PITCH));
    const i = Math.floor(t);
    return { i, share: t - i };
  }

  /** Where a point of the skin lies; false ahead of the first section. */
  locate(x: number, y: number, z: number, into: ByCut): boolean {
    const { along, off } = this.spine.locate(x, z, this.#by);
    into.along = along;
    if (along < this.first) return false;
    const { i, share } = this.between(along);
    const a = this.#turnAt(i, y, off);
    const b = this.#turnAt(i + 1, y, off);
    into.turn = Math.abs(a - b) > 1 ? (share < 0.5 ? a : b) : a + share * (b - a);
    into.across = into.turn * this.halfAt(along);
    return true;
  }

  /** Length of half a section, mm. */
  halfAt(along: number): number {
    const { i, share } = this.between(along);
    return this.halfLength[i] + share * (this.halfLength[i + 1] - this.halfLength[i]);
  }

  #turnAt(i: number, y: number, off: number): number {
    let best = 0;
    let least = Infinity;
    for (let half = 0; half < 2; half++) {
      const o = 2 * (2 * i + half) * (HALF + 1);
      for (let k = 0; k < HALF; k++) {
        const p = o + 2 * k;
        const [ax, ay] = [this.points[p], this.points[p + 1]];
        const [ex, ey] = [this.points[p + 2] - ax, this.points[p + 3] - ay];
        const t = Math.min(1, Math.max(0, ((y - ax) * ex + (off - ay) * ey) / (ex * ex + ey * ey)));
        const d = (ax + t * ex - y) ** 2 + (ay + t * ey - off) ** 2;
        if (d >= least) continue;
        least = d;
        best = ((k + t) / HALF) * (half === 0 ? 1 : -1);
      }
    }
    return best;
  }

  /** The point of the foot frame at a place by the cut, to about 0.1 mm of the skin. */
  point(along: number, turn: number): [number, number, number] {
    const { i, share } = this.between(along);
    const k = Math.min(HALF - 1e-9, Math.abs(turn) * HALF);
    const c = Math.floor(k);
    const s = k - c;
    const half = turn >= 0 ? 0 : 1;
    const at = (section: number, m: number): number => {
      const o = 2 * ((2 * section + half) * (HALF + 1) + c) + m;
      return this.points[o] + s * (this.points[o + 2] - this.points[o]);
    };
    const mix = (m: number): number => at(i, m) + share * (at(i + 1, m) - at(i, m));
    return this.spine.point(along, mix(0), mix(1));
  }
}

/** Both halves of one section, evenly by length; null where the section is open. */
function halves(mesh: Mesh, spine: Spine, along: number, medially: number): { points: Float64Array; length: number } | null {
  const [cx, cz, turn] = spine.at(along);
  const [dx, dz] = [-Math.cos(turn), Math.sin(turn)];
  const section = cut(mesh, [dx, 0, dz], dx * cx + dz * cz);
  const s = section.segments;
  const flat = (end: number): [number, number] => [s[3 * end + 1], (s[3 * end] - cx) * Math.sin(turn) + (s[3 * end + 2] - cz) * Math.cos(turn)];
  const lines = closedLines(section).map((line) => line.map(flat));
  // The line that holds the highest point over the course.
  let best: { line: [number, number][]; at: number; share: number; off: number } | null = null;
  for (const line of lines) {
    for (let j = 0; j < line.length; j++) {
      const [a, b] = [line[j], line[(j + 1) % line.length]];
      if (a[0] > medially === b[0] > medially) continue;
      const share = (medially - a[0]) / (b[0] - a[0]);
      const off = a[1] + share * (b[1] - a[1]);
      if (!best || off > best.off) best = { line, at: j, share, off };
    }
  }
  if (!best) return null;
  const { line, at, share } = best;
  const start: [number, number] = [medially, best.off];
  const ring = [start, ...Array.from({ length: line.length }, (_, j) => line[(at + 1 + j) % line.length]), start];
  if (share > 0.999) ring.splice(1, 1);
  const turned = ring[1][0] < ring[ring.length - 2][0] ? ring.reverse() : ring;
  const lengths = [0];
  for (let j = 1; j < turned.length; j++) lengths.push(lengths[j - 1] + Math.hypot(turned[j][0] - turned[j - 1][0], turned[j][1] - turned[j - 1][1]));
  const whole = lengths[lengths.length - 1];
  const points = new Float64Array(4 * (HALF + 1));
  let j = 0;
  for (let k = 0; k <= 2 * HALF; k++) {
    const want = (whole * k) / (2 * HALF);
    while (j < lengths.length - 2 && lengths[j + 1] < want) j++;
    const t = (want - lengths[j]) / Math.max(1e-12, lengths[j + 1] - lengths[j]);
    const p = [0, 1].map((m) => turned[j][m] + t * (turned[j + 1][m] - turned[j][m]));
    if (k <= HALF) points.set(p, 2 * k);
    if (k >= HALF) points.set(p, 2 * (HALF + 1 + 2 * HALF - k));
  }
  return { points, length: whole / 2 };
}
