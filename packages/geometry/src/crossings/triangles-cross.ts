/**
 * Whether two triangles cross: an edge of one passes through the inside of the other. Triangles that only touch, in a
 * shared corner or edge or lying in one plane, do not cross.
 *
 * @param p positions
 * @param triangles corners of all triangles, as indices of vertices
 * @param s number of one triangle
 * @param t number of the other
 */
export function trianglesCross(p: Float64Array, triangles: Uint32Array, s: number, t: number): boolean {
  return edgePierces(p, triangles, s, t) || edgePierces(p, triangles, t, s);
}

/** Whether an edge of `s` that has no corner in common with `t` passes through the inside of `t`. */
function edgePierces(p: Float64Array, triangles: Uint32Array, s: number, t: number): boolean {
  const a = triangles[3 * t];
  const b = triangles[3 * t + 1];
  const c = triangles[3 * t + 2];
  // Of each corner over the plane of `t`; of a corner in common, and so of its edges, nothing is asked.
  for (let k = 0; k < 3; k++) {
    const e = triangles[3 * s + k];
    over[k] = e === a || e === b || e === c ? 0 : volume(p, a, b, c, e);
  }
  for (let k = 0; k < 3; k++) {
    const above = over[k];
    const below = over[k === 2 ? 0 : k + 1];
    if (above > 0 === below > 0 || above === 0 || below === 0) continue;
    const e = triangles[3 * s + k];
    const f = triangles[k === 2 ? 3 * s : 3 * s + k + 1];
    const u = volume(p, e, f, a, b);
    const v = volume(p, e, f, b, c);
    const w = volume(p, e, f, c, a);
    if ((u > 0 && v > 0 && w > 0) || (u < 0 && v < 0 && w < 0)) return true;
  }
  return false;
}

const over = new Float64Array(3);

/** Six times the signed volume of the tetrahedron on four vertices. */
function volume(p: Float64Array, a: number, b: number, c: number, d: number): number {
  const i = 3 * a;
  const ux = p[3 * b] - p[i];
  const uy = p[3 * b + 1] - p[i + 1];
  const uz = p[3 * b + 2] - p[i + 2];
  const vx = p[3 * c] - p[i];
  const vy = p[3 * c + 1] - p[i + 1];
  const vz = p[3 * c + 2] - p[i + 2];
  const wx = p[3 * d] - p[i];
  const wy = p[3 * d + 1] - p[i + 1];
  const wz = p[3 * d + 2] - p[i + 2];
  return ux * (vy * wz - vz * wy) + uy * (vz * wx - vx * wz) + uz * (vx * wy - vy * wx);
}
