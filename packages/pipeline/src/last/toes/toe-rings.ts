import type { ToeShell } from './toe-shell.js';
import { shellPoint } from './toe-shell.js';

/** The surface ahead of the cut: new vertices in rings, and triangles that join them to the rim. */
export interface ToeRings {
  readonly positions: Float64Array;
  /** Numbers below the rim's length are places in the rim, those from there on are new vertices. */
  readonly triangles: Uint32Array;
}

/**
 * Rings about `edge` mm apart from the cut to the toes' ends, where the upper and the lower half of each ring meet on a line
 * across the foot; the first ring is joined to the rim.
 *
 * @param cut ring number of the rim, of the shell's
 * @param rim angles of the rim's vertices, rising once round
 * @param outward true where rising angles, seen from ahead, turn left
 */
export function toeRings(shell: ToeShell, cut: number, rim: Float64Array, edge: number, outward: boolean): ToeRings {
  const angles = evenAngles(shell, cut, edge);
  const columns = angles.length;
  const levels = evenLevels(shell, cut, edge);
  const half = columns / 2;
  const first = rim.length;
  const inRings = (levels.length - 1) * columns;
  const positions = new Float64Array(3 * (inRings + half + 1));
  for (let r = 0; r < levels.length; r++) {
    const width = r === levels.length - 1 ? half + 1 : columns;
    for (let j = 0; j < width; j++) shellPoint(shell, levels[r], angles[j], positions, 3 * (r * columns + j));
  }
  const triangles: number[] = [];
  const add = (a: number, b: number, c: number): void => {
    if (outward) triangles.push(a, b, c);
    else triangles.push(a, c, b);
  };
  const vertex = (r: number, j: number): number => first + r * columns + (r === levels.length - 1 ? Math.min(j % columns, columns - (j % columns)) : j % columns);
  joinRim(rim, angles, add, first);
  for (let r = 0; r + 1 < levels.length; r++) {
    for (let j = 0; j < columns; j++) {
      const a = vertex(r, j);
      const b = vertex(r, j + 1);
      const c = vertex(r + 1, j + 1);
      const d = vertex(r + 1, j);
      // The shorter diagonal; beside the ends of the last line the one that meets the end, for the other is the mirror side's too.
      const last = r + 2 === levels.length;
      const toEnd = last && (j + 1) % half === 0 ? true : last && j % half === 0 ? false : null;
      if (toEnd ?? squared(positions, a - first, c - first) <= squared(positions, b - first, d - first)) {
        add(a, b, c);
        add(a, c, d);
      } else {
        add(a, b, d);
        add(b, c, d);
      }
    }
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}

const squared = (p: Float64Array, a: number, b: number): number => (p[3 * a] - p[3 * b]) ** 2 + (p[3 * a + 1] - p[3 * b + 1]) ** 2 + (p[3 * a + 2] - p[3 * b + 2]) ** 2;

/** Triangles between the rim and the first ring, both once round in rising order. */
function joinRim(rim: Float64Array, ring: Float64Array, add: (a: number, b: number, c: number) => void, first: number): void {
  const turn = 2 * Math.PI;
  const m = rim.length;
  const n = ring.length;
  // The rim's place at which the ring's first column lies.
  let start = 0;
  while (start < m && rim[start] - rim[0] < wrap(ring[0] - rim[0])) start++;
  const base = rim[0];
  const rimAt = (k: number): number => rim[k % m] - base + turn * Math.floor(k / m);
  const shift = wrap(ring[0] - base) - ring[0];
  const ringAt = (k: number): number => ring[k % n] + shift + turn * Math.floor(k / n);
  let i = start;
  let j = 0;
  while (i < start + m || j < n) {
    const ringNext = j < n && (i >= start + m || ringAt(j + 1) <= rimAt(i + 1));
    if (ringNext) {
      add(i % m, first + ((j + 1) % n), first + (j % n));
      j++;
    } else {
      add(i % m, (i + 1) % m, first + (j % n));
      i++;
    }
  }
}

const wrap = (angle: number): number => angle - 2 * Math.PI * Math.floor(angle / (2 * Math.PI));

/** Angles about `edge` mm apart on the wider of the upper and lower half; symmetric, beginning at 0, an even count. */
function evenAngles(shell: ToeShell, cut: number, edge: number): Float64Array {
  const steps = 400;
  const probes = [cut, (cut + shell.across) / 2];
  const lengths = new Float64Array(steps + 1);
  const p = new Float64Array(3);
  const q = new Float64Array(3);
  for (let k = 1; k <= steps; k++) {
    let longest = 0;
    for (const at of probes) {
      for (const sign of [1, -1]) {
        shellPoint(shell, at, (sign * Math.PI * (k - 1)) / steps, p, 0);
        shellPoint(shell, at, (sign * Math.PI * k) / steps, q, 0);
        longest = Math.max(longest, Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]));
      }
    }
    lengths[k] = lengths[k - 1] + longest;
  }
  const half = Math.max(8, Math.ceil(lengths[steps] / edge));
  const out = new Float64Array(2 * half);
  for (let j = 0, k = 1; j <= half; j++) {
    const wanted = (lengths[steps] * j) / half;
    while (k < steps && lengths[k] < wanted) k++;
    const share = (wanted - lengths[k - 1]) / (lengths[k] - lengths[k - 1]);
    const angle = (Math.PI * (k - 1 + Math.min(1, share))) / steps;
    out[j] = angle;
    if (j > 0 && j < half) out[2 * half - j] = 2 * Math.PI - angle;
  }
  return out;
}

/** Ring numbers about `edge` mm apart where the rings are farthest from each other, from one past the cut to the last. */
function evenLevels(shell: ToeShell, cut: number, edge: number): Float64Array {
  const steps = 300;
  const lengths = new Float64Array(steps + 1);
  const p = new Float64Array(3);
  const q = new Float64Array(3);
  const level = (k: number): number => cut + ((shell.net.rings - cut) * k) / steps;
  for (let k = 1; k <= steps; k++) {
    let longest = 0;
    for (let c = 0; c < 16; c++) {
      const angle = (2 * Math.PI * (c + 0.5)) / 16;
      shellPoint(shell, level(k - 1), angle, p, 0);
      shellPoint(shell, level(k), angle, q, 0);
      longest = Math.max(longest, Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]));
    }
    lengths[k] = lengths[k - 1] + longest;
  }
  const count = Math.max(4, Math.ceil(lengths[steps] / edge));
  const out = new Float64Array(count);
  for (let r = 1, k = 1; r <= count; r++) {
    const wanted = (lengths[steps] * r) / count;
    while (k < steps && lengths[k] < wanted) k++;
    const share = (wanted - lengths[k - 1]) / (lengths[k] - lengths[k - 1]);
    out[r - 1] = cut + ((shell.net.rings - cut) * (k - 1 + Math.min(1, share))) / steps;
  }
  out[count - 1] = shell.net.rings;
  return out;
}
