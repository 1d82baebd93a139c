import { bounds } from '../mesh/mesh.js';

/**
 * Points spread evenly: one for each cell of a cubic grid that holds a vertex, at the mean of the cell's vertices.
 *
 * @param cell edge of a cell, in the positions' unit
 * @returns x, y, z of the points
 */
export function thinOut(positions: Float64Array, cell: number): Float64Array {
  const box = bounds(positions);
  const nx = Math.floor((box[3] - box[0]) / cell) + 1;
  const ny = Math.floor((box[4] - box[1]) / cell) + 1;
  const rows = new Map<number, number>();
  const sums: number[] = [];
  for (let i = 0; i < positions.length; i += 3) {
    const a = Math.floor((positions[i] - box[0]) / cell);
    const b = Math.floor((positions[i + 1] - box[1]) / cell);
    const c = Math.floor((positions[i + 2] - box[2]) / cell);
    const key = (c * ny + b) * nx + a;
    let row = rows.get(key);
    if (row === undefined) {
      row = sums.length;
      rows.set(key, row);
      sums.push(0, 0, 0, 0);
    }
    sums[row] += positions[i];
    sums[row + 1] += positions[i + 1];
    sums[row + 2] += positions[i + 2];
    sums[row + 3]++;
  }
  const points = new Float64Array((sums.length / 4) * 3);
  for (let row = 0, k = 0; row < sums.length; row += 4, k += 3) {
    points[k] = sums[row] / sums[row + 3];
    points[k + 1] = sums[row + 1] / sums[row + 3];
    points[k + 2] = sums[row + 2] / sums[row + 3];
  }
  return points;
}
