/**
 * The triangles with those turned round that face against the surface round them: slivers that fewer triangles or whole steps
 * of coordinates turned over, which would show as dark specks. Changed in place.
 *
 * @param normals of the vertices, from all triangles round each
 */
export function facingOut(positions: ArrayLike<number>, normals: ArrayLike<number>, triangles: Uint32Array): Uint32Array {
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const [ux, uy, uz] = [positions[b] - positions[a], positions[b + 1] - positions[a + 1], positions[b + 2] - positions[a + 2]];
    const [vx, vy, vz] = [positions[c] - positions[a], positions[c + 1] - positions[a + 1], positions[c + 2] - positions[a + 2]];
    const along = (k: 0 | 1 | 2): number => normals[a + k] + normals[b + k] + normals[c + k];
    if ((uy * vz - uz * vy) * along(0) + (uz * vx - ux * vz) * along(1) + (ux * vy - uy * vx) * along(2) < 0) {
      const second = triangles[t + 1];
      triangles[t + 1] = triangles[t + 2];
      triangles[t + 2] = second;
    }
  }
  return triangles;
}
