import type { SphereFit } from './fit-sphere.js';
import { sphereDistances } from './fit-sphere.js';
import { directionCell } from './sphere-points.js';

/** Cells a side of a cube's face: half a radian and more each, wider than the errors of scanners go together on a ball. */
const SIDE = 2;
const CELLS = 6 * SIDE * SIDE;

/**
 * Covariance of a sphere's centre x, y, z and radius, 4 × 4 row-major, where errors of neighbouring points go together, as
 * scanners' do: each cell of directions counts as one witness (the cluster-robust estimate of least squares, K.-Y. Liang &
 * S. Zeger 1986, Biometrika 73:13), and no variance is less than independent errors would give.
 *
 * @param points x, y, z of the points that the fit rests on
 */
export function sphereCovariance(points: Float64Array, fit: SphereFit): Float64Array {
  const distances = sphereDistances(points, fit);
  const sums = new Float64Array(4 * CELLS);
  const seen = new Uint8Array(CELLS);
  for (let v = 0, i = 0; v < distances.length; v++, i += 3) {
    const d = [points[i] - fit.centre[0], points[i + 1] - fit.centre[1], points[i + 2] - fit.centre[2]];
    const cell = directionCell(d[0], d[1], d[2], SIDE);
    const length = fit.radius + distances[v];
    seen[cell] = 1;
    for (let k = 0; k < 3; k++) sums[4 * cell + k] += (distances[v] * d[k]) / length;
    sums[4 * cell + 3] += distances[v];
  }
  const cells = seen.reduce((sum, s) => sum + s, 0);
  const spread = cells > 5 ? cells / (cells - 4) : 5;
  const independent = fit.cofactor.map((c) => c * fit.sd * fit.sd);
  // Cofactor times each cell's sum is how far that cell alone pulls the fit; the covariance is the sum of their squares.
  const out = new Float64Array(16);
  for (let cell = 0; cell < CELLS; cell++) {
    const pull = [0, 1, 2, 3].map((r) => [0, 1, 2, 3].reduce((sum, c) => sum + fit.cofactor[4 * r + c] * sums[4 * cell + c], 0));
    for (let r = 0; r < 4; r++) for (let c = 0; c < 4; c++) out[4 * r + c] += spread * pull[r] * pull[c];
  }
  const grow = [0, 1, 2, 3].map((k) => (out[5 * k] > 0 ? Math.sqrt(Math.max(1, independent[5 * k] / out[5 * k])) : 0));
  return out.map((c, i) => (grow[i >> 2] === 0 || grow[i & 3] === 0 ? independent[i] : c * grow[i >> 2] * grow[i & 3]));
}
