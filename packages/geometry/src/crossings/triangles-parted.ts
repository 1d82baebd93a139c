/**
 * Whether two triangles lie on both sides of the line of an edge, seen along the axis that one of them faces most: such two do
 * not cross. It tells nearly all neighbours on a smooth surface apart, at a small part of what `trianglesCross` takes.
 *
 * @param p positions
 * @param triangles corners of all triangles, as indices of vertices
 * @param s number of one triangle
 * @param t number of the other, from whose side they are seen
 */
export function partedInPlan(p: Float64Array, triangles: Uint32Array, s: number, t: number): boolean {
  const a = triangles[3 * t];
  const b = triangles[3 * t + 1];
  const c = triangles[3 * t + 2];
  const ux = p[3 * b] - p[3 * a];
  const uy = p[3 * b + 1] - p[3 * a + 1];
  const uz = p[3 * b + 2] - p[3 * a + 2];
  const vx = p[3 * c] - p[3 * a];
  const vy = p[3 * c + 1] - p[3 * a + 1];
  const vz = p[3 * c + 2] - p[3 * a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const wx = Math.abs(nx);
  const wy = Math.abs(ny);
  const wz = Math.abs(nz);
  // The two axes of the plan, in the order in which the triangle turns left.
  let i = 0;
  let j = 1;
  let turn = nz;
  if (wx >= wy && wx >= wz) {
    i = 1;
    j = 2;
    turn = nx;
  } else if (wy >= wz) {
    i = 2;
    j = 0;
    turn = ny;
  }
  const d = triangles[3 * s];
  const e = triangles[3 * s + 1];
  const f = triangles[3 * s + 2];
  if (turn !== 0) {
    const sign = turn > 0 ? 1 : -1;
    if (beyond(p, a, b, d, e, f, i, j, sign) || beyond(p, b, c, d, e, f, i, j, sign) || beyond(p, c, a, d, e, f, i, j, sign)) return true;
  }
  const other = across(p, d, e, f, i, j);
  if (other === 0) return false;
  const sign = other > 0 ? 1 : -1;
  return beyond(p, d, e, a, b, c, i, j, sign) || beyond(p, e, f, a, b, c, i, j, sign) || beyond(p, f, d, a, b, c, i, j, sign);
}

/** Whether three corners lie to the right of the line from a to b, times `sign`; corners a and b themselves lie on it. */
function beyond(p: Float64Array, a: number, b: number, d: number, e: number, f: number, i: number, j: number, sign: number): boolean {
  return (
    (d === a || d === b || sign * across(p, a, b, d, i, j) < 0) &&
    (e === a || e === b || sign * across(p, a, b, e, i, j) < 0) &&
    (f === a || f === b || sign * across(p, a, b, f, i, j) < 0)
  );
}

/** Twice the area of three vertices seen in the plan of axes i and j, positive where they turn left. */
function across(p: Float64Array, a: number, b: number, c: number, i: number, j: number): number {
  const ai = p[3 * a + i];
  const aj = p[3 * a + j];
  return (p[3 * b + i] - ai) * (p[3 * c + j] - aj) - (p[3 * b + j] - aj) * (p[3 * c + i] - ai);
}
