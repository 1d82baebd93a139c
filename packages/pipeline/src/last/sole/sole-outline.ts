import { depthContours } from '@cast-to-last/geometry/views/contour-lines';
import type { SoleMap } from './sole-map.js';
import { blurred } from './sole-map.js';

export const OUTLINE = {
  /** The sole ends where it rises by more than this (tangent: 45°). */
  slope: 1,
  /** Notches narrower than twice this are bridged, as those between toes and of a high arch, mm. */
  closing: 18,
  /** Distance of the samples along the outline, mm. */
  step: 2,
  /** Standard deviation of the blur along the outline, mm. */
  blur: 5,
} as const;

/** The sole's edge in plan: a closed line run through counter-clockwise seen from above. */
export interface SoleOutline {
  readonly count: number;
  /** x, y of the samples, evenly spaced by `step`, mm. */
  readonly points: Float64Array;
  /** Unit vectors along the line, and outward at right angles to it. */
  readonly along: Float64Array;
  readonly outward: Float64Array;
  readonly step: number;
}

/** The line round the sole where it turns half-way up to the sides, fair and without notches; null where there is no sole. */
export function soleOutline(map: SoleMap): SoleOutline | null {
  const { columns, rows, cell, origin } = map;
  const sole = closed(facingDown(map), columns, rows, OUTLINE.closing / cell);
  const soft = blurred(Float64Array.from(sole), columns, rows, 2 / cell);
  const axes = { right: [1, 0, 0], up: [0, 1, 0] } as const;
  const [lines] = depthContours({ axes, columns, rows, cell, origin, depth: Float32Array.from(soft) }, [0.5]);
  let longest = null as Float64Array | null;
  let most = 0;
  for (const { points, closed: whole } of lines) {
    const area = Math.abs(areaOf(points));
    if (whole && area > most) {
      longest = points;
      most = area;
    }
  }
  return longest === null ? null : evenOutline(longest);
}

/** One byte a sample: 1 where the sole rises by less than the outline's slope. */
function facingDown({ columns, rows, cell, height }: SoleMap): Uint8Array {
  const out = new Uint8Array(height.length);
  for (let j = 1; j + 1 < rows; j++) {
    for (let k = j * columns + 1; k + 1 < (j + 1) * columns; k++) {
      const gx = (height[k + 1] - height[k - 1]) / (2 * cell);
      const gy = (height[k + columns] - height[k - columns]) / (2 * cell);
      if (gx * gx + gy * gy < OUTLINE.slope * OUTLINE.slope) out[k] = 1;
    }
  }
  return out;
}

/** A mask grown and shrunk again by discs: what is narrower than the disc is filled. */
function closed(mask: Uint8Array, columns: number, rows: number, radius: number): Uint8Array {
  const grown = spread(mask, columns, rows, radius, 1);
  return spread(grown, columns, rows, radius, 0);
}

/** The samples of `value` grown by a disc. */
function spread(mask: Uint8Array, columns: number, rows: number, radius: number, value: 0 | 1): Uint8Array {
  const out = mask.slice();
  const reach = Math.floor(radius);
  const half = Int32Array.from({ length: 2 * reach + 1 }, (_, k) => Math.floor(Math.sqrt(radius * radius - (k - reach) ** 2)));
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const k = j * columns + i;
      if (mask[k] !== value) continue;
      const inside = i > 0 && i + 1 < columns && j > 0 && j + 1 < rows;
      if (inside && mask[k - 1] === value && mask[k + 1] === value && mask[k - columns] === value && mask[k + columns] === value) continue;
      for (let dj = Math.max(-reach, -j); dj <= reach && j + dj < rows; dj++) {
        const w = half[dj + reach];
        out.fill(value, (j + dj) * columns + Math.max(0, i - w), (j + dj) * columns + Math.min(columns - 1, i + w) + 1);
      }
    }
  }
  return out;
}

function areaOf(points: Float64Array): number {
  let twice = 0;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) twice += points[j] * points[i + 1] - points[i] * points[j + 1];
  return twice / 2;
}

function evenOutline(line: Float64Array): SoleOutline {
  const first = spacedOut(areaOf(line) > 0 ? line : reversed(line), OUTLINE.step / 2);
  const sigma = OUTLINE.blur / (OUTLINE.step / 2);
  const [x, y] = [0, 1].map((k) => blurredRound(Float64Array.from({ length: first.length / 2 }, (_, i) => first[2 * i + k]), sigma));
  const points = spacedOut(Float64Array.from(first, (_, i) => (i % 2 === 0 ? x : y)[i >> 1]), OUTLINE.step);
  const count = points.length / 2;
  const along = new Float64Array(2 * count);
  const outward = new Float64Array(2 * count);
  let length = 0;
  for (let i = 0; i < count; i++) {
    const a = (i + count - 1) % count;
    const b = (i + 1) % count;
    const dx = points[2 * b] - points[2 * a];
    const dy = points[2 * b + 1] - points[2 * a + 1];
    const size = Math.hypot(dx, dy);
    along.set([dx / size, dy / size], 2 * i);
    outward.set([dy / size, -dx / size], 2 * i);
    length += Math.hypot(points[2 * b] - points[2 * i], points[2 * b + 1] - points[2 * i + 1]);
  }
  return { count, points, along, outward, step: length / count };
}

const reversed = (points: Float64Array): Float64Array => points.map((_, i) => points[points.length - 2 - i + 2 * (i % 2)]);

/** A closed line sampled evenly, about `step` apart. */
function spacedOut(line: Float64Array, step: number): Float64Array {
  const count = line.length / 2;
  const far = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    far[i + 1] = far[i] + Math.hypot(line[2 * j] - line[2 * i], line[2 * j + 1] - line[2 * i + 1]);
  }
  const samples = Math.max(8, Math.round(far[count] / step));
  const out = new Float64Array(2 * samples);
  for (let s = 0, i = 0; s < samples; s++) {
    const at = (far[count] * s) / samples;
    while (far[i + 1] <= at) i++;
    const j = (i + 1) % count;
    const share = (at - far[i]) / (far[i + 1] - far[i]);
    for (let k = 0; k < 2; k++) out[2 * s + k] = line[2 * i + k] + share * (line[2 * j + k] - line[2 * i + k]);
  }
  return out;
}

/** Gaussian blur of values round a closed line. `sigma` in samples. */
export function blurredRound(values: Float64Array, sigma: number): Float64Array {
  const n = values.length;
  const reach = Math.min(n, Math.ceil(3 * sigma));
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-((k - reach) ** 2) / (2 * sigma * sigma)));
  const total = kernel.reduce((sum, w) => sum + w, 0);
  return values.map((_, i) => {
    let sum = 0;
    for (let k = -reach; k <= reach; k++) sum += kernel[k + reach] * values[(i + k + 2 * n) % n];
    return sum / total;
  });
}
