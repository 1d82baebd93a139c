import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/**
 * Hand-made meshes with closed forms, welded, triangles counter-clockwise seen from outside.
 * Closed: icosphere, uvTorus, closedCylinder, box. With boundary: openCylinder (two loops), gridPlane (one loop).
 */

/**
 * A sphere about the origin by splitting an icosahedron `subdivisions` times; 20·4^k triangles, 10·4^k + 2 vertices,
 * every vertex exactly on the sphere.
 */
export function icosphere(radius: number, subdivisions: number): Mesh {
  const t = (1 + Math.sqrt(5)) / 2;
  const points: number[] = [-1, t, 0, 1, t, 0, -1, -t, 0, 1, -t, 0, 0, -1, t, 0, 1, t, 0, -1, -t, 0, 1, -t, t, 0, -1, t, 0, 1, -t, 0, -1, -t, 0, 1];
  let faces: number[] = [
    0, 11, 5, 0, 5, 1, 0, 1, 7, 0, 7, 10, 0, 10, 11, 1, 5, 9, 5, 11, 4, 11, 10, 2, 10, 7, 6, 7, 1, 8,
    3, 9, 4, 3, 4, 2, 3, 2, 6, 3, 6, 8, 3, 8, 9, 4, 9, 5, 2, 4, 11, 6, 2, 10, 8, 6, 7, 9, 8, 1,
  ];
  const toSphere = (from: number): void => {
    const f = radius / Math.hypot(points[from], points[from + 1], points[from + 2]);
    for (let k = 0; k < 3; k++) points[from + k] *= f;
  };
  for (let i = 0; i < points.length; i += 3) toSphere(i);
  for (let level = 0; level < subdivisions; level++) {
    const middles = new Map<number, number>();
    const vertices = points.length / 3;
    const middle = (a: number, b: number): number => {
      const key = a < b ? a * vertices + b : b * vertices + a;
      let m = middles.get(key);
      if (m === undefined) {
        m = points.length / 3;
        for (let k = 0; k < 3; k++) points.push(points[3 * a + k] + points[3 * b + k]);
        toSphere(3 * m);
        middles.set(key, m);
      }
      return m;
    };
    const finer: number[] = [];
    for (let i = 0; i < faces.length; i += 3) {
      const [a, b, c] = [faces[i], faces[i + 1], faces[i + 2]];
      const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
      finer.push(a, ab, ca, b, bc, ab, c, ca, bc, ab, bc, ca);
    }
    faces = finer;
  }
  return { positions: new Float64Array(points), triangles: new Uint32Array(faces) };
}

/** Two triangles for each cell of a grid of `columns` × `rows` cells; `at(i, j)` is the vertex at column i, row j. */
function gridTriangles(columns: number, rows: number, at: (i: number, j: number) => number): number[] {
  const out: number[] = [];
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < rows; j++) {
      out.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1));
    }
  }
  return out;
}

/** A torus about the z axis: centre line of radius `R` in z = 0, tube of radius `r`; nu × nv × 2 triangles. */
export function uvTorus(R: number, r: number, nu: number, nv: number): Mesh {
  const positions = new Float64Array(3 * nu * nv);
  for (let i = 0; i < nu; i++) {
    for (let j = 0; j < nv; j++) {
      const u = (2 * Math.PI * i) / nu;
      const v = (2 * Math.PI * j) / nv;
      const d = R + r * Math.cos(v);
      positions.set([d * Math.cos(u), d * Math.sin(u), r * Math.sin(v)], 3 * (i * nv + j));
    }
  }
  return { positions, triangles: new Uint32Array(gridTriangles(nu, nv, (i, j) => (i % nu) * nv + (j % nv))) };
}

/** The wall of a cylinder about the z axis from z = 0 to z = h: n points round, m bands; open at both ends. */
export function openCylinder(r: number, h: number, n: number, m: number): Mesh {
  const positions = new Float64Array(3 * n * (m + 1));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= m; j++) {
      const u = (2 * Math.PI * i) / n;
      positions.set([r * Math.cos(u), r * Math.sin(u), (h * j) / m], 3 * (i * (m + 1) + j));
    }
  }
  return { positions, triangles: new Uint32Array(gridTriangles(n, m, (i, j) => (i % n) * (m + 1) + j)) };
}

/** A cylinder about the z axis from z = 0 to z = h, closed by a fan about the centre of each end. */
export function closedCylinder(r: number, h: number, n: number, m: number): Mesh {
  const wall = openCylinder(r, h, n, m);
  const bottom = wall.positions.length / 3;
  const fans: number[] = [];
  for (let i = 0; i < n; i++) {
    const here = i * (m + 1);
    const after = ((i + 1) % n) * (m + 1);
    fans.push(bottom, after, here, bottom + 1, here + m, after + m);
  }
  return {
    positions: new Float64Array([...wall.positions, 0, 0, 0, 0, 0, h]),
    triangles: new Uint32Array([...wall.triangles, ...fans]),
  };
}

/** An axis-aligned box a × b × c about the origin; each face has `divisions` × `divisions` cells of two triangles. */
export function box(a: number, b: number, c: number, divisions = 1): Mesh {
  const n = divisions;
  const size = [a, b, c];
  const ids = new Map<number, number>();
  const points: number[] = [];
  const vertex = (cell: readonly number[]): number => {
    const key = (cell[0] * (n + 1) + cell[1]) * (n + 1) + cell[2];
    let id = ids.get(key);
    if (id === undefined) {
      id = points.length / 3;
      ids.set(key, id);
      for (let k = 0; k < 3; k++) points.push(size[k] * (cell[k] / n - 0.5));
    }
    return id;
  };
  const faces: number[] = [];
  for (let axis = 0; axis < 3; axis++) {
    for (const far of [false, true]) {
      const at = (i: number, j: number): number => {
        const cell = [0, 0, 0];
        cell[axis] = far ? n : 0;
        cell[(axis + 1) % 3] = far ? i : j;
        cell[(axis + 2) % 3] = far ? j : i;
        return vertex(cell);
      };
      for (const corner of gridTriangles(n, n, at)) faces.push(corner);
    }
  }
  return { positions: new Float64Array(points), triangles: new Uint32Array(faces) };
}

/** A square of side `size` about the origin in z = 0, normal +z: nx × ny cells of two triangles. */
export function gridPlane(nx: number, ny: number, size: number): Mesh {
  const positions = new Float64Array(3 * (nx + 1) * (ny + 1));
  for (let i = 0; i <= nx; i++) {
    for (let j = 0; j <= ny; j++) positions.set([size * (i / nx - 0.5), size * (j / ny - 0.5), 0], 3 * (i * (ny + 1) + j));
  }
  return { positions, triangles: new Uint32Array(gridTriangles(nx, ny, (i, j) => i * (ny + 1) + j)) };
}

/** Each triangle with three vertices of its own, as STL holds it. */
export function asSoup(mesh: Mesh): Mesh {
  const positions = new Float64Array(3 * mesh.triangles.length);
  mesh.triangles.forEach((v, i) => positions.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i));
  return { positions, triangles: Uint32Array.from(mesh.triangles, (_, i) => i) };
}

/** The mesh with every triangle turned inside out. */
export const flipped = (mesh: Mesh): Mesh => ({
  positions: mesh.positions,
  triangles: mesh.triangles.map((_, i, all) => all[3 * Math.floor(i / 3) + [0, 2, 1][i % 3]]),
});

/** Several meshes as one, in the order given. */
export function merged(...meshes: readonly Mesh[]): Mesh {
  const positions = new Float64Array(meshes.reduce((sum, m) => sum + m.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((sum, m) => sum + m.triangles.length, 0));
  let p = 0;
  let t = 0;
  for (const mesh of meshes) {
    positions.set(mesh.positions, p);
    for (let i = 0; i < mesh.triangles.length; i++) triangles[t + i] = mesh.triangles[i] + p / 3;
    p += mesh.positions.length;
    t += mesh.triangles.length;
  }
  return { positions, triangles };
}
