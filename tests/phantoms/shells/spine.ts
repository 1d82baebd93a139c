import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { smoothStep } from '../surface/implicit.js';
import { cut } from '../reference/cut.js';

/** A place by the spine: mm along it from ahead of the toes, and mm from it within XZ, up on the foot and forward on the leg. */
export interface BySpine {
  along: number;
  off: number;
}

const STEP = 1;
/** Length of the turn from foot to leg of a foot 270 mm long: its least radius is 85 mm, further from it than any skin. */
const TURN = 250;
const BEFORE = 150;
const AFTER = 260;

/**
 * A line in the plane XZ from ahead of the toes along the foot and up the leg, without a kink. Planes at right angles to
 * it cut the forefoot upright, the ankle at a slant and the leg level: the sections in which a shell opens and closes.
 */
export class Spine {
  readonly #x: Float64Array;
  readonly #z: Float64Array;
  readonly #turn: Float64Array;

  /** For a mesh in the foot frame. */
  constructor(mesh: Mesh, footLength: number) {
    const scale = footLength / 270;
    const low = middleOf(mesh, 0.34 * footLength);
    const high = middleOf(mesh, 0.42 * footLength);
    const lean = Math.atan2(high[0] - low[0], high[1] - low[1]);
    const whole = Math.PI / 2 + lean;
    const [before, turn, after] = [BEFORE * scale, TURN * scale, AFTER * scale];
    const n = Math.ceil((before + turn + after) / STEP) + 1;
    [this.#x, this.#z, this.#turn] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
    let [x, z] = [0, 0.13 * footLength];
    for (let i = 0; i < n; i++) {
      const angle = whole * smoothStep(before, before + turn, i * STEP);
      this.#x[i] = x;
      this.#z[i] = z;
      this.#turn[i] = angle;
      const half = whole * smoothStep(before, before + turn, (i + 0.5) * STEP);
      x -= STEP * Math.cos(half);
      z += STEP * Math.sin(half);
    }
    // Shifted along X so that its end runs up the middle of the leg.
    const onLeg = low[0] + (this.#z[n - 1] - low[1]) * Math.tan(lean);
    const shift = onLeg - this.#x[n - 1];
    for (let i = 0; i < n; i++) this.#x[i] += shift;
  }

  get length(): number {
    return (this.#x.length - 1) * STEP;
  }

  /** x, z of the spine and its angle: 0 along −X, a right angle up. */
  at(along: number): [number, number, number] {
    const t = Math.min(this.#x.length - 1.001, Math.max(0, along / STEP));
    const i = Math.floor(t);
    const s = t - i;
    const mix = (a: Float64Array): number => a[i] + s * (a[i + 1] - a[i]);
    return [mix(this.#x), mix(this.#z), mix(this.#turn)];
  }

  locate(x: number, z: number, into: BySpine): BySpine {
    let best = 0;
    let least = Infinity;
    for (let i = 0; i < this.#x.length; i += 8) {
      const d = (x - this.#x[i]) ** 2 + (z - this.#z[i]) ** 2;
      if (d < least) {
        least = d;
        best = i;
      }
    }
    let along = best * STEP;
    for (let round = 0; round < 5; round++) {
      const [cx, cz, turn] = this.at(along);
      const ahead = -(x - cx) * Math.cos(turn) + (z - cz) * Math.sin(turn);
      into.off = (x - cx) * Math.sin(turn) + (z - cz) * Math.cos(turn);
      into.along = along;
      const bend = (this.at(along + 2)[2] - this.at(along - 2)[2]) / 4;
      along += ahead / Math.max(0.2, 1 - into.off * bend);
      if (Math.abs(ahead) < 1e-6) break;
    }
    return into;
  }

  /** The point of the foot frame that lies `y` medially and `off` from the spine. */
  point(along: number, y: number, off: number): [number, number, number] {
    const [cx, cz, turn] = this.at(along);
    return [cx + off * Math.sin(turn), y, cz + off * Math.cos(turn)];
  }
}

/** The middle of the section at a height, as x, z. */
function middleOf(mesh: Mesh, height: number): [number, number] {
  const { segments } = cut(mesh, [0, 0, 1], height);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < segments.length; i += 3) {
    low = Math.min(low, segments[i]);
    high = Math.max(high, segments[i]);
  }
  return [(low + high) / 2, height];
}
