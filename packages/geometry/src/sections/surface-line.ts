import type { Mesh } from '../mesh/mesh.js';

/**
 * Follows the line in which the plane through a vertex, spanned by the unit vectors `direction` and `normal`, meets the
 * surface, one way from the vertex, and writes its height over arc length at even steps: height[k] is the height along
 * `normal` over the vertex at arc length (k + 1) · step.
 *
 * The height is taken between crossings by straight lines. A line that turns back more than a right angle goes on
 * round; one that meets a boundary ends.
 *
 * @param triangle a triangle at the vertex which the plane enters in that direction (`entryTriangle`)
 * @param height filled from index 0
 * @param most steps written at the most
 * @returns how many steps were written
 */
export function surfaceLine(
  mesh: Mesh,
  twin: Int32Array,
  vertex: number,
  triangle: number,
  direction: ArrayLike<number>,
  normal: ArrayLike<number>,
  step: number,
  height: Float64Array,
  most = height.length,
): number {
  const p = mesh.positions;
  const t = mesh.triangles;
  const o = 3 * vertex;
  const ox = p[o];
  const oy = p[o + 1];
  const oz = p[o + 2];
  // m is normal to the cutting plane; a point's side is the sign of m · (point − vertex).
  const mx = direction[1] * normal[2] - direction[2] * normal[1];
  const my = direction[2] * normal[0] - direction[0] * normal[2];
  const mz = direction[0] * normal[1] - direction[1] * normal[0];
  const nx = normal[0];
  const ny = normal[1];
  const nz = normal[2];
  let along = 0;
  let written = 0;
  let lastX = ox;
  let lastY = oy;
  let lastZ = oz;
  let lastHeight = 0;
  const first = 3 * triangle;
  let h = t[first] === vertex ? first + 1 : t[first + 1] === vertex ? first + 2 : first;
  // The line crosses from a to b, which lie sa and sb off the plane; each step keeps one of the two.
  let a = 3 * t[h];
  let b = 3 * t[h % 3 === 2 ? h - 2 : h + 1];
  let sa = mx * (p[a] - ox) + my * (p[a + 1] - oy) + mz * (p[a + 2] - oz);
  let sb = mx * (p[b] - ox) + my * (p[b + 1] - oy) + mz * (p[b + 2] - oz);
  for (let guard = 0; guard < 4096; guard++) {
    const s = sa === sb ? 0.5 : sa / (sa - sb);
    const x = p[a] + s * (p[b] - p[a]);
    const y = p[a + 1] + s * (p[b + 1] - p[a + 1]);
    const z = p[a + 2] + s * (p[b + 2] - p[a + 2]);
    const dx = x - lastX;
    const dy = y - lastY;
    const dz = z - lastZ;
    const segment = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const rise = nx * (x - ox) + ny * (y - oy) + nz * (z - oz);
    while ((written + 1) * step <= along + segment) {
      const share = ((written + 1) * step - along) / segment;
      height[written++] = lastHeight + share * (rise - lastHeight);
      if (written === most) return written;
    }
    along += segment;
    lastX = x;
    lastY = y;
    lastZ = z;
    lastHeight = rise;
    const g = twin[h];
    if (g < 0) return written;
    // Through the triangle of g: on by whichever of its two other halfedges the plane crosses.
    const h1 = g % 3 === 2 ? g - 2 : g + 1;
    const h2 = g % 3 === 0 ? g + 2 : g - 1;
    const c = 3 * t[h2];
    const sc = mx * (p[c] - ox) + my * (p[c + 1] - oy) + mz * (p[c + 2] - oz);
    // g runs b → a; h1 runs a → c, h2 runs c → b.
    if (sc >= 0 === sa >= 0) {
      h = h2;
      a = c;
      sa = sc;
    } else {
      h = h1;
      b = c;
      sb = sc;
    }
  }
  return written;
}
