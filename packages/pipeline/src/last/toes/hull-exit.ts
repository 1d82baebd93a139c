import { bounds } from '@cast-to-last/geometry/mesh/mesh';

/**
 * Where a ray from inside leaves the convex hull of points, without the hull: a triangle of hull points that the ray passes
 * through is moved outward, one corner at a time to the point farthest beyond it, until no point lies beyond (the portal
 * refinement of G. Snethen's collision test, Game Programming Gems 7, 2008).
 */
export const HULL_EXIT = {
  /** A point this far beyond the triangle, mm, ends the search no more. */
  beyond: 1e-4,
  /** Half the size of the first triangle, mm: it has to lie inside the hull. */
  start: 0.1,
  rounds: 200,
  /** Edge of the boxes that points are looked for in, mm, and how many of them along each axis make a crate. */
  box: 6,
  crate: 4,
} as const;

export class HullExit {
  readonly points: Float64Array;
  /** The last triangle, three points of the hull: mostly good for the next ray. */
  private readonly corners = new Float64Array(9);
  private warm = false;
  private readonly side = new Float64Array(3);

  /** Least and greatest x, y, z of each box of points, and where its points begin; the same of each crate, and where its boxes begin. */
  private readonly boxes: Float64Array;
  private readonly offsets: Uint32Array;
  private readonly crates: Float64Array;
  private readonly firstBox: Uint32Array;
  private last = 0;

  /** @param points x, y, z of each; copied, in another order */
  constructor(points: Float64Array) {
    const low = bounds(points);
    const { box, crate } = HULL_EXIT;
    const cell = (i: number, k: number, edge: number): number => Math.floor((points[i + k] - low[k]) / edge);
    const keys = [box * crate, box].map((edge) => Float64Array.from({ length: points.length / 3 }, (_, v) => (cell(3 * v, 0, edge) * 4096 + cell(3 * v, 1, edge)) * 4096 + cell(3 * v, 2, edge)));
    const order = Uint32Array.from(keys[0].keys()).sort((a, b) => keys[0][a] - keys[0][b] || keys[1][a] - keys[1][b] || a - b);
    this.points = new Float64Array(points.length);
    const offsets: number[] = [];
    const firstBox: number[] = [];
    order.forEach((v, n) => {
      const before = order[n - 1];
      if (n === 0 || keys[0][v] !== keys[0][before]) firstBox.push(offsets.length);
      if (n === 0 || keys[1][v] !== keys[1][before]) offsets.push(3 * n);
      for (let k = 0; k < 3; k++) this.points[3 * n + k] = points[3 * v + k];
    });
    this.offsets = Uint32Array.from([...offsets, points.length]);
    this.firstBox = Uint32Array.from([...firstBox, offsets.length]);
    this.boxes = new Float64Array(6 * offsets.length);
    offsets.forEach((from, b) => this.boxes.set(bounds(this.points.subarray(from, this.offsets[b + 1])), 6 * b));
    this.crates = new Float64Array(6 * firstBox.length);
    firstBox.forEach((from, c) => this.crates.set(bounds(this.points.subarray(offsets[from], this.offsets[this.firstBox[c + 1]])), 6 * c));
  }

  /** The factor t ≥ 0 at which c + t·d leaves the hull; c lies inside, d need not have unit length. Numbers are mm. */
  exit(cx: number, cy: number, cz: number, dx: number, dy: number, dz: number): number {
    const k = this.corners;
    if (!this.warm || !this.holds(cx, cy, cz, dx, dy, dz)) this.startAt(cx, cy, cz, dx, dy, dz);
    this.warm = true;
    for (let round = 0; ; round++) {
      const ux = k[3] - k[0];
      const uy = k[4] - k[1];
      const uz = k[5] - k[2];
      const vx = k[6] - k[0];
      const vy = k[7] - k[1];
      const vz = k[8] - k[2];
      let nx = uy * vz - uz * vy;
      let ny = uz * vx - ux * vz;
      let nz = ux * vy - uy * vx;
      const size = Math.sqrt(nx * nx + ny * ny + nz * nz) || 1;
      const sign = nx * dx + ny * dy + nz * dz < 0 ? -1 / size : 1 / size;
      nx *= sign;
      ny *= sign;
      nz *= sign;
      const level = nx * k[0] + ny * k[1] + nz * k[2];
      const at = this.farthest(nx, ny, nz);
      const p = this.points;
      const beyond = nx * p[at] + ny * p[at + 1] + nz * p[at + 2] - level;
      if (beyond <= HULL_EXIT.beyond || round >= HULL_EXIT.rounds) return (level - nx * cx - ny * cy - nz * cz) / (nx * dx + ny * dy + nz * dz);
      this.replace(at, cx, cy, cz, dx, dy, dz);
    }
  }

  /** Place of the point farthest along n: crate by crate and box by box, leaving out those that do not reach beyond the best one so far. */
  private farthest(nx: number, ny: number, nz: number): number {
    const { crates, boxes, firstBox } = this;
    const x = nx < 0 ? 0 : 3;
    const y = ny < 0 ? 1 : 4;
    const z = nz < 0 ? 2 : 5;
    const p = this.points;
    let best = nx * p[this.last] + ny * p[this.last + 1] + nz * p[this.last + 2];
    for (let c = 0; c + 1 < firstBox.length; c++) {
      if (nx * crates[6 * c + x] + ny * crates[6 * c + y] + nz * crates[6 * c + z] <= best) continue;
      for (let b = firstBox[c]; b < firstBox[c + 1]; b++) {
        if (nx * boxes[6 * b + x] + ny * boxes[6 * b + y] + nz * boxes[6 * b + z] > best) best = this.farthestIn(b, nx, ny, nz, best);
      }
    }
    return this.last;
  }

  /** How far the points of a box reach along n, at least `best`; where one of them reaches beyond it, it is the last one found. */
  private farthestIn(b: number, nx: number, ny: number, nz: number, best: number): number {
    const p = this.points;
    let most = best;
    for (let i = this.offsets[b]; i < this.offsets[b + 1]; i += 3) {
      const along = nx * p[i] + ny * p[i + 1] + nz * p[i + 2];
      if (along <= most) continue;
      most = along;
      this.last = i;
    }
    return most;
  }

  /** Puts point `at` in the place of the corner whose loss keeps the ray inside the triangle. */
  private replace(at: number, cx: number, cy: number, cz: number, dx: number, dy: number, dz: number): void {
    const k = this.corners;
    const p = this.points;
    const px = p[at] - cx;
    const py = p[at + 1] - cy;
    const pz = p[at + 2] - cz;
    // Normal of the plane that holds the ray and the new point: which side of it each corner lies on.
    const qx = dy * pz - dz * py;
    const qy = dz * px - dx * pz;
    const qz = dx * py - dy * px;
    const { side } = this;
    for (let i = 0; i < 3; i++) side[i] = qx * (k[3 * i] - cx) + qy * (k[3 * i + 1] - cy) + qz * (k[3 * i + 2] - cz);
    // The ray lies in the triangle of the new point and the edge that it looks at: of the three edges, the one whose ends
    // lie on both sides of that plane, on the ray's side of the new point.
    let lose = -1;
    let best = -Infinity;
    for (let i = 0; i < 3; i++) {
      const a = (i + 1) % 3;
      const b = (i + 2) % 3;
      if (side[a] > 0 === side[b] > 0) continue;
      const s = side[a] / (side[a] - side[b]);
      const fx = k[3 * a] + s * (k[3 * b] - k[3 * a]) - cx;
      const fy = k[3 * a + 1] + s * (k[3 * b + 1] - k[3 * a + 1]) - cy;
      const fz = k[3 * a + 2] + s * (k[3 * b + 2] - k[3 * a + 2]) - cz;
      // How clearly the ray lies between the new point and the edge's point f: both cross products with d, turned alike.
      const between = -(qx * (dy * fz - dz * fy) + qy * (dz * fx - dx * fz) + qz * (dx * fy - dy * fx));
      if (between > best) {
        best = between;
        lose = i;
      }
    }
    if (lose < 0) lose = 0;
    for (let c = 0; c < 3; c++) k[3 * lose + c] = p[at + c];
  }

  private holds(cx: number, cy: number, cz: number, dx: number, dy: number, dz: number): boolean {
    const k = this.corners;
    let turned = 0;
    for (let i = 0; i < 3; i++) {
      const a = 3 * i;
      const b = 3 * ((i + 1) % 3);
      const ax = k[a] - cx;
      const ay = k[a + 1] - cy;
      const az = k[a + 2] - cz;
      const bx = k[b] - cx;
      const by = k[b + 1] - cy;
      const bz = k[b + 2] - cz;
      const volume = dx * (ay * bz - az * by) + dy * (az * bx - ax * bz) + dz * (ax * by - ay * bx);
      if (volume === 0) return false;
      turned += Math.sign(volume);
      if (volume * dirSign(turned) < 0) return false;
    }
    // All the same turn may also be the ray's other end: the corners have to lie ahead.
    const ahead = ((k[0] + k[3] + k[6]) / 3 - cx) * dx + ((k[1] + k[4] + k[7]) / 3 - cy) * dy + ((k[2] + k[5] + k[8]) / 3 - cz) * dz;
    return Math.abs(turned) === 3 && ahead > 0;
  }

  private startAt(cx: number, cy: number, cz: number, dx: number, dy: number, dz: number): void {
    const length = Math.hypot(dx, dy, dz);
    const d = [dx / length, dy / length, dz / length];
    const least = Math.abs(d[0]) < Math.abs(d[1]) ? (Math.abs(d[0]) < Math.abs(d[2]) ? 0 : 2) : Math.abs(d[1]) < Math.abs(d[2]) ? 1 : 2;
    const u = [0, 1, 2].map((c) => (c === least ? 1 : 0) - d[least] * d[c]);
    const size = Math.hypot(u[0], u[1], u[2]);
    for (let c = 0; c < 3; c++) u[c] /= size;
    const v = [d[1] * u[2] - d[2] * u[1], d[2] * u[0] - d[0] * u[2], d[0] * u[1] - d[1] * u[0]];
    const { start } = HULL_EXIT;
    for (let i = 0; i < 3; i++) {
      const angle = 0.4 + (2 * Math.PI * i) / 3;
      for (let c = 0; c < 3; c++) this.corners[3 * i + c] = [cx, cy, cz][c] + start * (d[c] + Math.cos(angle) * u[c] + Math.sin(angle) * v[c]);
    }
  }
}

const dirSign = (turned: number): number => (turned < 0 ? -1 : 1);
