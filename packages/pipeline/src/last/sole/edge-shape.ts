import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Corner } from './corner.js';
import { cornerOf } from './corner.js';
import { edgeSection } from './edge-sections.js';
import type { SoleMap } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';
import { blurredRound } from './sole-outline.js';

/** Standard deviation of the blur by which corners are made fair along the outline, mm. */
const FAIR_LENGTH = 9;
/** Samples without an edge of their own fade into those that have one over this length, mm. */
const FADE = 12;

/** The corners along an outline: one value a sample. */
export interface EdgeShape {
  readonly outline: SoleOutline;
  /** Slopes (radians) and distances (mm) of the lines of sole and side, and how far from the corner they are left (mm). */
  readonly soleSlope: Float64Array;
  readonly soleFar: Float64Array;
  readonly sideSlope: Float64Array;
  readonly sideFar: Float64Array;
  readonly soleRun: Float64Array;
  readonly sideRun: Float64Array;
  /** 0 where the edge is left as it is, 1 where it is made. */
  readonly share: Float64Array;
  /** One byte a sample: 1 where the section shows an edge. */
  readonly found: Uint8Array;
}

/** Slope outward of a sole that is flat across, and its weight against the foot's own. */
export type FlatSlope = (sample: number) => { readonly slope: number; readonly weight: number } | null;

/**
 * The corners along an outline, made fair; null where no section shows an edge.
 *
 * @param flat the slope of a sole that is flat across at a sample
 * @param leave whether the edge at a sample is to be left as it is
 */
export function edgeShape(mesh: Mesh, twin: Int32Array, outline: SoleOutline, map: SoleMap, flat: FlatSlope, leave: (sample: number) => boolean): EdgeShape | null {
  const { count, step } = outline;
  const corners: (Corner | null)[] = [];
  for (let s = 0; s < count; s++) {
    const edge = leave(s) ? null : edgeSection(mesh, twin, outline, map, s);
    corners.push(edge === null ? null : cornerOf(edge, flat(s)));
  }
  const found = Uint8Array.from(corners, (corner) => (corner === null ? 0 : 1));
  if (!found.includes(1)) return null;
  const sigma = FAIR_LENGTH / step;
  const along = (value: (corner: Corner) => number): Float64Array => fairRound(Float64Array.from(corners, (corner) => (corner === null ? NaN : value(corner))), sigma);
  return {
    outline,
    soleSlope: along((corner) => corner.sole.slope),
    soleFar: along((corner) => corner.sole.far),
    sideSlope: along((corner) => corner.side.slope),
    sideFar: along((corner) => corner.side.far),
    soleRun: along((corner) => corner.soleRun),
    sideRun: along((corner) => corner.sideRun),
    share: shares(found, FADE / step),
    found,
  };
}

/** Blurred round the outline; gaps are bridged straight. */
function fairRound(values: Float64Array, sigma: number): Float64Array {
  const n = values.length;
  const whole = values.slice();
  const first = values.findIndex((v) => !Number.isNaN(v));
  for (let k = 1, last = 0; k <= n; k++) {
    const a = values[(first + last) % n];
    const b = values[(first + k) % n];
    if (Number.isNaN(b)) continue;
    for (let g = last + 1; g < k; g++) whole[(first + g) % n] = a + ((b - a) * (g - last)) / (k - last);
    last = k;
  }
  return blurredRound(whole, sigma);
}

/** 1 where samples show an edge, falling to 0 before those that show none. `length` in samples. */
function shares(found: Uint8Array, length: number): Float64Array {
  const n = found.length;
  const out = new Float64Array(n).fill(1);
  const reach = Math.ceil(length);
  for (let i = 0; i < n; i++) {
    if (found[i] === 1) continue;
    for (let k = -reach; k <= reach; k++) {
      const t = Math.min(1, Math.abs(k) / length);
      const j = (i + k + n) % n;
      out[j] = Math.min(out[j], t * t * (3 - 2 * t));
    }
  }
  return out;
}

/** The corner at a place of the outline: straight between the samples. */
export function cornerAt(shape: EdgeShape, sample: number, share: number): Corner {
  const next = (sample + 1) % shape.outline.count;
  const mix = (values: Float64Array): number => values[sample] + share * (values[next] - values[sample]);
  return {
    sole: { slope: mix(shape.soleSlope), far: mix(shape.soleFar) },
    side: { slope: mix(shape.sideSlope), far: mix(shape.sideFar) },
    soleRun: mix(shape.soleRun),
    sideRun: mix(shape.sideRun),
  };
}
