import { smoothStep } from '../ease/smooth-step.js';
import { columnOf, partAt } from './toe-frame.js';
import type { ToeShell } from './toe-shell.js';
import { ringAt, shellPoint } from './toe-shell.js';

/** Each vertex in the coordinates of the toe part. */
export interface ToeZone {
  /** Of each vertex; below 0 behind the start. */
  readonly parts: Float64Array;
  readonly shell: ToeShell;
  /** Where the foot's own surface has wholly become the shell. */
  readonly cut: number;
}

/** The parts of all vertices; length vertices. */
export function partsOf(positions: Float64Array, { frame }: Pick<ToeShell, 'frame'>): Float64Array {
  const out = new Float64Array(positions.length / 3);
  for (let v = 0, i = 0; v < out.length; v++, i += 3) out[v] = partAt(frame, positions[i], positions[i + 1]);
  return out;
}

const at = new Float64Array(3);

/**
 * Moves the vertices between the start and the cut towards the shell, in their planes, by a share that grows smoothly from
 * 0 at the start to 1 at the cut. In place; all others stay bit for bit.
 */
export function blendZone(positions: Float64Array, { parts, shell, cut }: ToeZone): void {
  for (let v = 0; v < parts.length; v++) {
    if (!(parts[v] > 0) || parts[v] > cut) continue;
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    const [angle] = columnOf(shell.frame, parts[v], y, z);
    shellPoint(shell, ringAt(shell, parts[v]), angle, at, 0);
    const share = shareOfShell(parts[v] / cut);
    positions[3 * v] = x + share * (at[0] - x);
    positions[3 * v + 1] = y + share * (at[1] - y);
    positions[3 * v + 2] = z + share * (at[2] - z);
  }
}

/**
 * How far the surface has become the shell at t of the way. The two part at an angle at the start, so that the share may grow
 * fast there without a bend; slowly, the surface would follow the foot into the hollow first.
 */
const shareOfShell = (t: number): number => smoothStep(t / 0.25) * (1 - (1 - Math.min(t, 1)) ** 3);

/** The columns of a rim's points, as they follow each other round the toes once, made to rise; null where they run back by more than `most`. */
export function risingAngles(angles: Float64Array, most: number): Float64Array | null {
  const n = angles.length;
  const turn = 2 * Math.PI;
  const out = new Float64Array(n);
  out[0] = angles[0];
  for (let k = 1; k < n; k++) {
    const step = angles[k] - angles[k - 1];
    out[k] = out[k - 1] + step - turn * Math.round(step / turn);
  }
  const whole = out[n - 1] - out[0];
  const close = angles[0] - angles[n - 1];
  if (Math.abs(whole + close - turn * Math.round(close / turn) - turn) > 1e-6) return null;
  // Half-way between the least rising curve above and the greatest below.
  const least = (0.05 * turn) / n;
  const above = out.slice();
  const below = out.slice();
  for (let k = 1; k < 2 * n; k++) {
    const i = k % n;
    const j = (k - 1) % n;
    above[i] = Math.max(above[i], above[j] + least - (i === 0 ? turn : 0));
  }
  for (let k = 2 * n - 2; k >= 0; k--) {
    const i = k % n;
    const j = (k + 1) % n;
    below[i] = Math.min(below[i], below[j] - least + (j === 0 ? turn : 0));
  }
  for (let k = 0; k < n; k++) {
    if (above[k] - below[k] > 2 * most) return null;
    out[k] = (above[k] + below[k]) / 2;
  }
  return out;
}
