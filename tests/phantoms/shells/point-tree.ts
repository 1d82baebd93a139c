const LEAF = 8;

/** Points in a k-d tree, asked for the one nearest to a place. Distances in the points' unit. */
export class PointTree {
  readonly #positions: Float64Array;
  readonly #order: Uint32Array;
  /** minX, minY, minZ, maxX, maxY, maxZ of each node; node n has the children 2n + 1 and 2n + 2. */
  readonly #boxes: number[] = [];
  #best = -1;
  #square = Infinity;

  constructor(positions: Float64Array) {
    this.#positions = positions;
    this.#order = Uint32Array.from({ length: positions.length / 3 }, (_, i) => i);
    this.#build(0, 0, this.#order.length);
  }

  #build(node: number, low: number, high: number): void {
    const [p, order] = [this.#positions, this.#order];
    const box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
    for (let i = low; i < high; i++) {
      for (let k = 0; k < 3; k++) {
        const c = p[3 * order[i] + k];
        if (c < box[k]) box[k] = c;
        if (c > box[k + 3]) box[k + 3] = c;
      }
    }
    for (let k = 0; k < 6; k++) this.#boxes[6 * node + k] = box[k];
    if (high - low <= LEAF) return;
    const size = [0, 1, 2].map((k) => box[k + 3] - box[k]);
    const axis = size.indexOf(Math.max(...size));
    const middle = (low + high) >> 1;
    this.#select(axis, low, high - 1, middle);
    this.#build(2 * node + 1, low, middle);
    this.#build(2 * node + 2, middle, high);
  }

  /** Orders so that the `nth` of [low, high] along the axis stands at its place, smaller ones before it. */
  #select(axis: number, low: number, high: number, nth: number): void {
    const [p, order] = [this.#positions, this.#order];
    let [from, to] = [low, high];
    while (to > from) {
      const pivot = p[3 * order[(from + to) >> 1] + axis];
      let [i, j] = [from, to];
      while (i <= j) {
        while (p[3 * order[i] + axis] < pivot) i++;
        while (p[3 * order[j] + axis] > pivot) j--;
        if (i > j) break;
        const swap = order[i];
        order[i++] = order[j];
        order[j--] = swap;
      }
      if (nth <= j) to = j;
      else if (nth >= i) from = i;
      else return;
    }
  }

  #boxSquare(node: number, x: number, y: number, z: number): number {
    const b = this.#boxes;
    const o = 6 * node;
    const dx = x < b[o] ? b[o] - x : x > b[o + 3] ? x - b[o + 3] : 0;
    const dy = y < b[o + 1] ? b[o + 1] - y : y > b[o + 4] ? y - b[o + 4] : 0;
    const dz = z < b[o + 2] ? b[o + 2] - z : z > b[o + 5] ? z - b[o + 5] : 0;
    return dx * dx + dy * dy + dz * dz;
  }

  #search(node: number, low: number, high: number, x: number, y: number, z: number): void {
    if (high - low <= LEAF) {
      const [p, order] = [this.#positions, this.#order];
      for (let i = low; i < high; i++) {
        const v = order[i];
        const [dx, dy, dz] = [p[3 * v] - x, p[3 * v + 1] - y, p[3 * v + 2] - z];
        const square = dx * dx + dy * dy + dz * dz;
        if (square < this.#square) {
          this.#square = square;
          this.#best = v;
        }
      }
      return;
    }
    const middle = (low + high) >> 1;
    const left = this.#boxSquare(2 * node + 1, x, y, z);
    const right = this.#boxSquare(2 * node + 2, x, y, z);
    if (left <= right) {
      if (left < this.#square) this.#search(2 * node + 1, low, middle, x, y, z);
      if (right < this.#square) this.#search(2 * node + 2, middle, high, x, y, z);
    } else {
      if (right < this.#square) this.#search(2 * node + 2, middle, high, x, y, z);
      if (left < this.#square) this.#search(2 * node + 1, low, middle, x, y, z);
    }
  }

  /** The nearest point's number, −1 where none lies within `reach`. */
  nearest(x: number, y: number, z: number, reach = Infinity): number {
    this.#best = -1;
    this.#square = reach * reach;
    this.#search(0, 0, this.#order.length, x, y, z);
    return this.#best;
  }
}
