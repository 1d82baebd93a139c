import type { Mesh } from '../mesh/mesh.js';

/** A rigid or affine map: 4 × 4, row-major, 16 numbers; points are columns (p' = M·p). */
export type Transform = Float64Array;

export const identity = (): Transform => new Float64Array([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]);

/** The map that does `first`, then `second`. */
export function compose(second: Transform, first: Transform): Transform {
  const out = new Float64Array(16);
  for (let r = 0; r < 4; r++) {
    for (let c = 0; c < 4; c++) {
      let sum = 0;
      for (let k = 0; k < 4; k++) sum += second[4 * r + k] * first[4 * k + c];
      out[4 * r + c] = sum;
    }
  }
  return out;
}

/** The inverse of a rigid map (rotation and translation only). */
export function invertRigid(m: Transform): Transform {
  const out = identity();
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) out[4 * r + c] = m[4 * c + r];
    out[4 * r + 3] = -(m[r] * m[3] + m[4 + r] * m[7] + m[8 + r] * m[11]);
  }
  return out;
}

/** Positions mapped by `m`, written to `out`: a new array of the same length where none is given. */
export function transformPositions(m: Transform, positions: Float64Array, out: Float64Array = new Float64Array(positions.length)): Float64Array {
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    out[i] = m[0] * x + m[1] * y + m[2] * z + m[3];
    out[i + 1] = m[4] * x + m[5] * y + m[6] * z + m[7];
    out[i + 2] = m[8] * x + m[9] * y + m[10] * z + m[11];
  }
  return out;
}

/** The mesh mapped by a rigid `m`; triangles are shared, not copied. */
export const transformMesh = (m: Transform, mesh: Mesh): Mesh => ({
  positions: transformPositions(m, mesh.positions),
  triangles: mesh.triangles,
});

/** The map whose rows are the axes of a frame and which sends `origin` to 0. Axes are unit 3-vectors at right angles. */
export function frameTransform(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>, origin: ArrayLike<number>): Transform {
  const out = identity();
  [x, y, z].forEach((axis, r) => {
    for (let c = 0; c < 3; c++) out[4 * r + c] = axis[c];
    out[4 * r + 3] = -(axis[0] * origin[0] + axis[1] * origin[1] + axis[2] * origin[2]);
  });
  return out;
}
