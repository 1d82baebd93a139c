import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Field } from './implicit.js';

const BLOCK = 4;

/** The 12 edges of a cell as corner pairs; corner c stands at (c & 1, c >> 1 & 1, c >> 2). Edge 4·axis + n runs along the axis. */
const EDGES: readonly (readonly [number, number])[] = [0, 1, 2].flatMap((axis) =>
  [0, 1, 2, 3, 4, 5, 6, 7].filter((c) => !(c & (1 << axis))).map((c) => [c, c | (1 << axis)] as const),
);
const SHEETS = sheetTable();

/** For each pattern of inside corners, the sheet (0, 1, …) that each of the 12 edges belongs to, or −1; inside corners across a face's diagonal count as apart. */
function sheetTable(): Int8Array[] {
  const faces = [0, 1, 2].flatMap((axis) => [0, 1].map((side) => [0, 1, 2, 3, 4, 5, 6, 7].filter((c) => ((c >> axis) & 1) === side)));
  return Array.from({ length: 256 }, (_, pattern) => {
    const inside = (c: number): boolean => ((pattern >> c) & 1) === 1;
    const crossed = EDGES.map(([a, b]) => inside(a) !== inside(b));
    const group = EDGES.map((_edge, e) => e);
    const join = (e: number, f: number): void => {
      const from = group[e];
      const to = group[f];
      for (let i = 0; i < 12; i++) if (group[i] === from) group[i] = to;
    };
    for (const face of faces) {
      const edges = EDGES.map((_edge, e) => e).filter((e) => crossed[e] && face.includes(EDGES[e][0]) && face.includes(EDGES[e][1]));
      if (edges.length === 2) join(edges[0], edges[1]);
      if (edges.length === 4) {
        for (const c of face.filter(inside)) {
          const [e, f] = edges.filter((g) => EDGES[g].includes(c));
          join(e, f);
        }
      }
    }
    const names = [...new Set(group.filter((_g, e) => crossed[e]))];
    return Int8Array.from(group, (g, e) => (crossed[e] ? names.indexOf(g) : -1));
  });
}

/**
 * Surface nets over the box [minX, minY, minZ, maxX, maxY, maxZ] with cubic cells of `cell` mm: one vertex a sheet of the
 * zero set in a cell (dual of marching cubes), two triangles an edge. Blocks that lie far from the surface are skipped. Vertices are near the zero
 * set, not on it.
 */
export function meshField(field: Field, box: ArrayLike<number>, cell: number): Mesh {
  const size = [0, 1, 2].map((k) => Math.ceil((box[k + 3] - box[k]) / cell / BLOCK) * BLOCK + 1);
  const [nx, ny, nz] = size;
  const values = new Float32Array(nx * ny * nz).fill(1);
  // Corners that blocks share are asked once.
  const asked = new Uint8Array(values.length);
  const at = (i: number, j: number, k: number): number => (k * ny + j) * nx + i;
  const half = (BLOCK / 2) * cell;
  // A field's slope is at most about 1.4: a block whose middle is further from zero than this holds no surface.
  const far = 1.4 * half * Math.sqrt(3) + 0.5 * cell;
  for (let bk = 0; bk < nz - 1; bk += BLOCK) {
    for (let bj = 0; bj < ny - 1; bj += BLOCK) {
      for (let bi = 0; bi < nx - 1; bi += BLOCK) {
        const middle = field(box[0] + bi * cell + half, box[1] + bj * cell + half, box[2] + bk * cell + half);
        const skip = Math.abs(middle) > far;
        for (let k = bk; k <= bk + BLOCK; k++) {
          for (let j = bj; j <= bj + BLOCK; j++) {
            for (let i = bi; i <= bi + BLOCK; i++) {
              const shared = (i === bi && bi > 0) || (j === bj && bj > 0) || (k === bk && bk > 0);
              const v = at(i, j, k);
              if (skip) {
                if (!shared) values[v] = middle;
              } else if (asked[v] === 0) {
                asked[v] = 1;
                values[v] = field(box[0] + i * cell, box[1] + j * cell, box[2] + k * cell);
              }
            }
          }
        }
      }
    }
  }
  return surfaceNets(values, [nx, ny, nz], box, cell);
}

function surfaceNets(values: Float32Array, [nx, ny, nz]: number[], box: ArrayLike<number>, cell: number): Mesh {
  const at = (i: number, j: number, k: number): number => (k * ny + j) * nx + i;
  const firstVertex = new Int32Array(values.length).fill(-1);
  const patternOf = new Uint8Array(values.length);
  const positions: number[] = [];
  const corner = new Float64Array(8);
  for (let k = 0; k < nz - 1; k++) {
    for (let j = 0; j < ny - 1; j++) {
      for (let i = 0; i < nx - 1; i++) {
        let pattern = 0;
        for (let c = 0; c < 8; c++) {
          corner[c] = values[at(i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2))];
          if (corner[c] < 0) pattern |= 1 << c;
        }
        if (pattern === 0 || pattern === 255) continue;
        firstVertex[at(i, j, k)] = positions.length / 3;
        patternOf[at(i, j, k)] = pattern;
        const sheet = SHEETS[pattern];
        for (let s = 0; sheet.includes(s); s++) {
          let count = 0;
          const sum = [0, 0, 0];
          for (let e = 0; e < 12; e++) {
            if (sheet[e] !== s) continue;
            const [a, b] = EDGES[e];
            const t = corner[a] / (corner[a] - corner[b]);
            for (let m = 0; m < 3; m++) sum[m] += ((a >> m) & 1) + (m === e >> 2 ? t : 0);
            count++;
          }
          positions.push(box[0] + (i + sum[0] / count) * cell, box[1] + (j + sum[1] / count) * cell, box[2] + (k + sum[2] / count) * cell);
        }
      }
    }
  }
  const triangles: number[] = [];
  const step = [1, nx, nx * ny];
  // The four cells around a grid edge (how far back in index) and the edge's name in each of them.
  const rings = [0, 1, 2].map((axis) => {
    const [b, c] = [(axis + 1) % 3, (axis + 2) % 3];
    return [[1, 1], [0, 1], [0, 0], [1, 0]].map(([back, up]) => {
      const from = (back << b) | (up << c);
      return { cellBack: back * step[b] + up * step[c], edge: EDGES.findIndex(([p, q]) => p === from && q === (from | (1 << axis))) };
    });
  });
  for (let k = 1; k < nz - 1; k++) {
    for (let j = 1; j < ny - 1; j++) {
      for (let i = 1; i < nx - 1; i++) {
        const v = at(i, j, k);
        const here = values[v] < 0;
        for (let axis = 0; axis < 3; axis++) {
          if (here === values[v + step[axis]] < 0) continue;
          const ring = rings[axis].map(({ cellBack, edge }) => firstVertex[v - cellBack] + SHEETS[patternOf[v - cellBack]][edge]);
          const [p, q, r, s] = here ? ring : [ring[0], ring[3], ring[2], ring[1]];
          if (((i + j + k) & 1) === 0) triangles.push(p, q, r, p, r, s);
          else triangles.push(q, r, s, q, s, p);
        }
      }
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
