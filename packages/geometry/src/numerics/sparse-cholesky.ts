import { dissect } from './dissect.js';

/**
 * Direct solution of sparse symmetric positive definite systems: up-looking Cholesky factorization over the elimination
 * tree (after T. Davis, Direct Methods for Sparse Linear Systems, SIAM 2006), ordered by nested dissection of the points
 * that the unknowns stand for. On a surface patch of n unknowns: about n log n entries in the factor, n^1.5 operations.
 */
export interface SparseSymmetric {
  readonly size: number;
  /** Row starts; length size + 1. Both triangles are held. */
  readonly offsets: Uint32Array;
  readonly columns: Uint32Array;
  readonly values: Float64Array;
}

export interface Factor {
  /** Overwrites each right-hand side (length `size`) with the solution. */
  solve(...sides: Float64Array[]): void;
}

export const FACTOR_DEFAULTS = {
  /** Most multiplications that a factorization may take; about 5 seconds. */
  mostWork: 4e9,
} as const;

/**
 * Factors the matrix; null where it is not positive definite in the arithmetic at hand, or would take too much work.
 * `points` is 3 × size.
 */
export function factorize(matrix: SparseSymmetric, points: Float64Array): Factor | null {
  const n = matrix.size;
  const order = dissect(matrix.offsets, matrix.columns, points);
  const place = new Uint32Array(n);
  for (let i = 0; i < n; i++) place[order[i]] = i;

  const parent = new Int32Array(n).fill(-1);
  const ancestor = new Int32Array(n).fill(-1);
  for (let k = 0; k < n; k++) {
    const row = order[k];
    for (let e = matrix.offsets[row]; e < matrix.offsets[row + 1]; e++) {
      for (let i = place[matrix.columns[e]]; i < k; ) {
        const up = ancestor[i];
        ancestor[i] = k;
        if (up < 0) {
          parent[i] = k;
          break;
        }
        i = up;
      }
    }
  }

  const mark = new Int32Array(n).fill(-1);
  const path = new Uint32Array(n);
  const reached = new Uint32Array(n);
  /** Columns of the factor with an entry in row k, parents after children, in reached[top … n − 1]. */
  const reach = (k: number): number => {
    let top = n;
    mark[k] = k;
    const row = order[k];
    for (let e = matrix.offsets[row]; e < matrix.offsets[row + 1]; e++) {
      let i = place[matrix.columns[e]];
      if (i > k) continue;
      let length = 0;
      for (; mark[i] !== k; i = parent[i]) {
        path[length++] = i;
        mark[i] = k;
      }
      while (length > 0) reached[--top] = path[--length];
    }
    return top;
  };

  const starts = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    starts[k + 1]++;
    for (let i = reach(k); i < n; i++) starts[reached[i] + 1]++;
  }
  let work = 0;
  for (let k = 0; k < n; k++) {
    work += (starts[k + 1] * starts[k + 1]) / 2;
    starts[k + 1] += starts[k];
  }
  if (work > FACTOR_DEFAULTS.mostWork) return null;
  const rows = new Uint32Array(starts[n]);
  const values = new Float64Array(starts[n]);
  const end = starts.slice(0, n);
  const x = new Float64Array(n);
  mark.fill(-1);
  for (let k = 0; k < n; k++) {
    const row = order[k];
    for (let e = matrix.offsets[row]; e < matrix.offsets[row + 1]; e++) {
      const i = place[matrix.columns[e]];
      if (i <= k) x[i] += matrix.values[e];
    }
    const top = reach(k);
    let pivot = x[k];
    x[k] = 0;
    for (let r = top; r < n; r++) {
      const i = reached[r];
      const start = starts[i];
      const stop = end[i];
      const factor = x[i] / values[start];
      x[i] = 0;
      for (let e = start + 1; e < stop; e++) x[rows[e]] -= values[e] * factor;
      pivot -= factor * factor;
      rows[stop] = k;
      values[stop] = factor;
      end[i]++;
    }
    if (!(pivot > 0)) return null;
    rows[starts[k]] = k;
    values[starts[k]] = Math.sqrt(pivot);
    end[k] = starts[k] + 1;
  }

  const y = new Float64Array(n);
  return {
    solve: (...sides) => {
      for (const side of sides) {
        for (let k = 0; k < n; k++) y[k] = side[order[k]];
        for (let k = 0; k < n; k++) {
          y[k] /= values[starts[k]];
          for (let e = starts[k] + 1; e < starts[k + 1]; e++) y[rows[e]] -= values[e] * y[k];
        }
        for (let k = n - 1; k >= 0; k--) {
          let sum = y[k];
          for (let e = starts[k] + 1; e < starts[k + 1]; e++) sum -= values[e] * y[rows[e]];
          y[k] = sum / values[starts[k]];
        }
        for (let k = 0; k < n; k++) side[order[k]] = y[k];
      }
    },
  };
}
