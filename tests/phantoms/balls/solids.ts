import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** A body of the scene: how far a point is from it (negative inside; at least nearly exact near its skin), and its skin as triangles about `edge` mm wide. */
export interface Solid {
  readonly name: string;
  distance(x: number, y: number, z: number): number;
  skin(edge: number): Mesh;
}

/** A sphere split in 20·n² triangles from an icosahedron: every triangle of about one size, whatever n. */
export function geodesicSphere(radius: number, edge: number): Mesh {
  const n = Math.max(2, Math.round((1.05 * radius) / edge));
  const t = (1 + Math.sqrt(5)) / 2;
  const corners = [[-1, t, 0], [1, t, 0], [-1, -t, 0], [1, -t, 0], [0, -1, t], [0, 1, t], [0, -1, -t], [0, 1, -t], [t, 0, -1], [t, 0, 1], [-t, 0, -1], [-t, 0, 1]];
  const faces = [
    [0, 11, 5], [0, 5, 1], [0, 1, 7], [0, 7, 10], [0, 10, 11], [1, 5, 9], [5, 11, 4], [11, 10, 2], [10, 7, 6], [7, 1, 8],
    [3, 9, 4], [3, 4, 2], [3, 2, 6], [3, 6, 8], [3, 8, 9], [4, 9, 5], [2, 4, 11], [6, 2, 10], [8, 6, 7], [9, 8, 1],
  ];
  const numbers = new Map<string, number>();
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const [a, b, c] of faces) {
    const at = (i: number, j: number): number => {
      const p = [0, 1, 2].map((k) => corners[a][k] * (n - i - j) + corners[b][k] * i + corners[c][k] * j);
      const f = radius / Math.hypot(...p);
      const key = p.map((x) => Math.round((1e6 * x) / n)).join();
      let v = numbers.get(key);
      if (v === undefined) {
        v = positions.length / 3;
        numbers.set(key, v);
        positions.push(p[0] * f, p[1] * f, p[2] * f);
      }
      return v;
    };
    for (let i = 0; i < n; i++) {
      for (let j = 0; i + j < n; j++) {
        triangles.push(at(i, j), at(i + 1, j), at(i, j + 1));
        if (i + j + 1 < n) triangles.push(at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
      }
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** A grid of u × v steps bent by `at`, both running from 0 to 1; seen from outside where ∂u × ∂v points outward. */
function bent(u: number, v: number, at: (u: number, v: number) => readonly number[]): Mesh {
  const [m, n] = [Math.max(1, Math.round(u)), Math.max(1, Math.round(v))];
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let i = 0; i <= m; i++) for (let j = 0; j <= n; j++) positions.push(...at(i / m, j / n));
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < n; j++) {
      const a = i * (n + 1) + j;
      triangles.push(a, a + n + 1, a + n + 2, a, a + n + 2, a + 1);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

const join = (meshes: readonly Mesh[]): Mesh => {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const first = positions.length / 3;
    for (const c of mesh.positions) positions.push(c);
    for (const v of mesh.triangles) triangles.push(first + v);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
};

const shifted = (mesh: Mesh, by: readonly number[]): Mesh => ({ positions: mesh.positions.map((c, i) => c + by[i % 3]), triangles: mesh.triangles });

export function ball(centre: readonly number[], radius: number): Solid {
  return {
    name: 'ball',
    distance: (x, y, z) => Math.hypot(x - centre[0], y - centre[1], z - centre[2]) - radius,
    skin: (edge) => shifted(geodesicSphere(radius, edge), centre),
  };
}

/** Semi-axes along x, y, z; the distance is a first-order one. */
export function egg(centre: readonly number[], axes: readonly number[]): Solid {
  const level = (x: number, y: number, z: number): number => {
    const p = [(x - centre[0]) / axes[0], (y - centre[1]) / axes[1], (z - centre[2]) / axes[2]];
    const k = Math.hypot(...p);
    const slope = Math.hypot(p[0] / axes[0], p[1] / axes[1], p[2] / axes[2]);
    return k < 1e-9 ? -Math.min(...axes) : ((k - 1) * k) / slope;
  };
  return {
    name: 'egg',
    distance: level,
    skin: (edge) => shifted({ ...geodesicSphere(1, edge / Math.max(...axes)), positions: geodesicSphere(1, edge / Math.max(...axes)).positions.map((c, i) => c * axes[i % 3]) }, centre),
  };
}

/** A frustum between two points with a radius at each end: cylinder, cone or cup without its hollow. */
export function frustum(from: readonly number[], to: readonly number[], r0: number, r1: number): Solid {
  const d = to.map((c, k) => c - from[k]);
  const length = Math.hypot(...d);
  const axis = d.map((c) => c / length);
  const helper = Math.abs(axis[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const cross = (a: readonly number[], b: readonly number[]): number[] => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const u = cross(axis, helper).map((c, _, all) => c / Math.hypot(...all));
  const v = cross(axis, u);
  const slant = Math.hypot(length, r1 - r0);
  const at = (along: number, radius: number, turn: number): number[] =>
    [0, 1, 2].map((k) => from[k] + along * length * axis[k] + radius * (Math.cos(turn) * u[k] + Math.sin(turn) * v[k]));
  return {
    name: 'frustum',
    distance: (x, y, z) => {
      const p = [x - from[0], y - from[1], z - from[2]];
      const a = p[0] * axis[0] + p[1] * axis[1] + p[2] * axis[2];
      const r = Math.sqrt(Math.max(0, p[0] * p[0] + p[1] * p[1] + p[2] * p[2] - a * a));
      const side = ((r - r0 - ((r1 - r0) * a) / length) * length) / slant;
      const end = Math.max(-a, a - length);
      return side > 0 && end > 0 ? Math.hypot(side, end) : Math.max(side, end);
    },
    skin: (edge) => {
      const round = (2 * Math.PI * Math.max(r0, r1)) / edge;
      const disc = (along: number, radius: number, outward: boolean): Mesh =>
        bent(outward ? radius / edge : round, outward ? round : radius / edge, (s, t) => (outward ? at(along, radius * s, 2 * Math.PI * t) : at(along, radius * t, 2 * Math.PI * s)));
      return join([bent(round, slant / edge, (s, t) => at(t, r0 + (r1 - r0) * t, 2 * Math.PI * s)), disc(0, r0, false), disc(1, r1, true)]);
    },
  };
}

/** A box about `centre`, turned about z by `turn`. */
export function block(centre: readonly number[], size: readonly number[], turn: number): Solid {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const half = size.map((s) => s / 2);
  const face = (axis: number, sign: number, edge: number): Mesh => {
    const [a, b] = sign > 0 ? [(axis + 1) % 3, (axis + 2) % 3] : [(axis + 2) % 3, (axis + 1) % 3];
    return bent(size[a] / edge, size[b] / edge, (s, t) => {
      const p = [0, 0, 0];
      p[axis] = sign * half[axis];
      p[a] = (s - 0.5) * size[a];
      p[b] = (t - 0.5) * size[b];
      return [centre[0] + cos * p[0] - sin * p[1], centre[1] + sin * p[0] + cos * p[1], centre[2] + p[2]];
    });
  };
  return {
    name: 'block',
    distance: (x, y, z) => {
      const [dx, dy] = [x - centre[0], y - centre[1]];
      const q = [Math.abs(cos * dx + sin * dy) - half[0], Math.abs(cos * dy - sin * dx) - half[1], Math.abs(z - centre[2]) - half[2]];
      return Math.hypot(...q.map((c) => Math.max(c, 0))) + Math.min(Math.max(...q), 0);
    },
    skin: (edge) => join([0, 1, 2].flatMap((axis) => [-1, 1].map((sign) => face(axis, sign, edge)))),
  };
}

/** A ring lying flat: radius of its middle line and of its tube. */
export function ring(centre: readonly number[], radius: number, tube: number): Solid {
  return {
    name: 'ring',
    distance: (x, y, z) => Math.hypot(Math.hypot(x - centre[0], y - centre[1]) - radius, z - centre[2]) - tube,
    skin: (edge) =>
      bent((2 * Math.PI * radius) / edge, (2 * Math.PI * tube) / edge, (s, t) => {
        const [a, b] = [2 * Math.PI * s, 2 * Math.PI * t];
        const r = radius + tube * Math.cos(b);
        return [centre[0] + r * Math.cos(a), centre[1] + r * Math.sin(a), centre[2] + tube * Math.sin(b)];
      }),
  };
}

/** `outer` with a spherical hollow sunk into it: a socket, a bowl. */
export function hollowed(outer: Solid, centre: readonly number[], radius: number): Solid {
  const hollow = ball(centre, radius);
  return {
    name: 'socket',
    distance: (x, y, z) => Math.max(outer.distance(x, y, z), -hollow.distance(x, y, z)),
    skin: (edge) => {
      const inside = hollow.skin(edge);
      const turned = inside.triangles.slice();
      for (let t = 0; t < turned.length; t += 3) [turned[t + 1], turned[t + 2]] = [turned[t + 2], turned[t + 1]];
      return join([outer.skin(edge), { positions: inside.positions, triangles: turned }]);
    },
  };
}

/** The table: its top at z = 0. */
export function table(width: number, depth: number): Solid {
  return {
    name: 'table',
    distance: (_x, _y, z) => z,
    skin: (edge) => bent(width / edge, depth / edge, (s, t) => [(s - 0.5) * width, (t - 0.5) * depth, 0]),
  };
}
