import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { neighbourAverage } from './umbrella.js';

/**
 * Smoothing of a whole surface, as general programs do it, written anew for comparison: nothing of the pipeline is used.
 * All with equal weights; vertices at a boundary stay.
 */
export interface Setting {
  readonly method: 'Laplacian' | 'Taubin' | 'windowed sinc';
  /** Rounds, or for the windowed sinc the degree of its polynomial. */
  readonly rounds: number;
  /** For the windowed sinc: the pass band, 0 to 2 in units of the graph Laplacian. */
  readonly passBand?: number;
}

export function smoothWhole(mesh: Mesh, setting: Setting): Mesh {
  const { method, rounds, passBand = 0.1 } = setting;
  const average = neighbourAverage(mesh);
  if (method === 'windowed sinc') return { ...mesh, positions: windowedSinc(mesh.positions, average, rounds, passBand) };
  // Taubin 1995, A signal processing approach to fair surface design: an inward step and an outward one.
  const steps = method === 'Laplacian' ? [0.5] : [0.5, -0.53];
  const from = mesh.positions.slice();
  const mean = new Float64Array(from.length);
  for (let round = 0; round < rounds; round++) {
    for (const step of steps) {
      average(from, mean);
      for (let i = 0; i < from.length; i++) from[i] += step * (mean[i] - from[i]);
    }
  }
  return { ...mesh, positions: from };
}

/** Taubin, Zhang and Golub 1996, Optimal surface smoothing as filter design: Chebyshev polynomials under a Hamming window. */
function windowedSinc(x: Float64Array, average: (from: Float64Array, to: Float64Array) => void, degree: number, passBand: number): Float64Array {
  const theta = Math.acos(1 - passBand);
  const weight = (n: number): number => (n === 0 ? theta / Math.PI : (2 * Math.sin(n * theta)) / (n * Math.PI)) * (0.54 + 0.46 * Math.cos((n * Math.PI) / (degree + 1)));
  // What stays constant must stay: the weights at k = 0 add up to the filter's gain there.
  let gain = 0;
  for (let n = 0; n <= degree; n++) gain += weight(n);
  let before = x.slice();
  let now = new Float64Array(x.length);
  average(before, now);
  const out = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) out[i] = weight(0) * before[i] + weight(1) * now[i];
  for (let n = 2; n <= degree; n++) {
    const next = new Float64Array(x.length);
    average(now, next);
    for (let i = 0; i < x.length; i++) {
      next[i] = 2 * next[i] - before[i];
      out[i] += weight(n) * next[i];
    }
    [before, now] = [now, next];
  }
  for (let i = 0; i < x.length; i++) out[i] /= gain;
  return out;
}

/** Settings that are tried, from hardly anything to far too much. */
export const SETTINGS: readonly Setting[] = [
  ...[2, 5, 10, 20, 40].map((rounds): Setting => ({ method: 'Laplacian', rounds })),
  ...[10, 30, 60, 100, 200, 400].map((rounds): Setting => ({ method: 'Taubin', rounds })),
  ...[0.3, 0.2, 0.1, 0.05, 0.02].map((passBand): Setting => ({ method: 'windowed sinc', rounds: 100, passBand })),
];

export const nameOf = ({ method, rounds, passBand }: Setting): string =>
  passBand === undefined ? `${method}, ${rounds} rounds` : `${method}, pass band ${passBand}, degree ${rounds}`;
