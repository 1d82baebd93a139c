import earcut from 'earcut';

/**
 * Writes the n − 2 triangles of a polygon into `out` from index `at` on, turning the same way round as its corners.
 * Quadrilaterals are split along the diagonal that leaves no folded triangle (the shorter one where both do); larger
 * polygons by ear clipping in the plane of their Newell normal. A polygon that cannot be clipped cleanly (without area,
 * or crossing itself) becomes a fan, which keeps its rim and so the surface closed.
 */
export function triangulatePolygon(positions: Float64Array, corners: Uint32Array, out: Uint32Array, at: number): void {
  if (corners.length === 4) splitQuadrilateral(positions, corners, out, at);
  else if (!clipEars(positions, corners, out, at)) fan(corners, 0, out, at);
}

/** All triangles share the corner `apex`. */
function fan(corners: Uint32Array, apex: number, out: Uint32Array, at: number): void {
  const n = corners.length;
  for (let k = 1; k < n - 1; k++) {
    out[at++] = corners[apex];
    out[at++] = corners[(apex + k) % n];
    out[at++] = corners[(apex + k + 1) % n];
  }
}

function splitQuadrilateral(p: Float64Array, corners: Uint32Array, out: Uint32Array, at: number): void {
  const [a, b, c, d] = corners;
  const alongAc = foldCosine(p, a, b, c, d);
  const alongBd = foldCosine(p, b, c, d, a);
  const keepAc = alongAc > 0 === alongBd > 0 ? distanceSquared(p, a, c) <= distanceSquared(p, b, d) : alongAc > 0;
  fan(corners, keepAc ? 0 : 1, out, at);
}

/** Sign of the cosine between the normals of triangles a b c and a c d. */
function foldCosine(p: Float64Array, a: number, b: number, c: number, d: number): number {
  const first = cross(p, a, b, c);
  const second = cross(p, a, c, d);
  return first[0] * second[0] + first[1] * second[1] + first[2] * second[2];
}

function cross(p: Float64Array, a: number, b: number, c: number): [number, number, number] {
  const ux = p[3 * b] - p[3 * a];
  const uy = p[3 * b + 1] - p[3 * a + 1];
  const uz = p[3 * b + 2] - p[3 * a + 2];
  const vx = p[3 * c] - p[3 * a];
  const vy = p[3 * c + 1] - p[3 * a + 1];
  const vz = p[3 * c + 2] - p[3 * a + 2];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

function distanceSquared(p: Float64Array, a: number, b: number): number {
  return (p[3 * a] - p[3 * b]) ** 2 + (p[3 * a + 1] - p[3 * b + 1]) ** 2 + (p[3 * a + 2] - p[3 * b + 2]) ** 2;
}

/** Ear clipping by earcut in the coordinate plane that the polygon covers most of; false where it gives no clean result. */
function clipEars(p: Float64Array, corners: Uint32Array, out: Uint32Array, at: number): boolean {
  const n = corners.length;
  const normal = [0, 0, 0];
  const origin = corners[0];
  for (let k = 1; k < n - 1; k++) {
    const area = cross(p, origin, corners[k], corners[k + 1]);
    for (let axis = 0; axis < 3; axis++) normal[axis] += area[axis];
  }
  const size = normal.map(Math.abs);
  const drop = size[0] >= size[1] && size[0] >= size[2] ? 0 : size[1] >= size[2] ? 1 : 2;
  if (!(size[drop] > 0)) return false;
  const u = (drop + 1) % 3;
  const v = (drop + 2) % 3;
  const flat = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    flat[2 * k] = p[3 * corners[k] + u] - p[3 * origin + u];
    flat[2 * k + 1] = p[3 * corners[k] + v] - p[3 * origin + v];
  }
  const ears = earcut(flat);
  if (ears.length !== 3 * (n - 2)) return false;
  let turn = 0;
  for (let k = 0; k < ears.length; k += 3) turn += signedArea(flat, ears[k], ears[k + 1], ears[k + 2]);
  // The corners turn counter-clockwise in the (u, v) plane where the dropped component of the normal is positive.
  const reverse = turn > 0 !== normal[drop] > 0;
  for (let k = 0; k < ears.length; k += 3) {
    out[at++] = corners[ears[k]];
    out[at++] = corners[ears[reverse ? k + 2 : k + 1]];
    out[at++] = corners[ears[reverse ? k + 1 : k + 2]];
  }
  return true;
}

function signedArea(flat: Float64Array, a: number, b: number, c: number): number {
  const ux = flat[2 * b] - flat[2 * a];
  const uy = flat[2 * b + 1] - flat[2 * a + 1];
  return ux * (flat[2 * c + 1] - flat[2 * a + 1]) - uy * (flat[2 * c] - flat[2 * a]);
}
