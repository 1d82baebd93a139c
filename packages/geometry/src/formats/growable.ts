/**
 * Typed arrays that grow by doubling: a file whose counts cannot be trusted is read into them, so that memory follows
 * what was read and not what was promised.
 */
export class GrowableFloat64 {
  length = 0;
  private items: Float64Array;

  constructor(capacity = 3072) {
    this.items = new Float64Array(capacity);
  }

  push3(x: number, y: number, z: number): void {
    if (this.length + 3 > this.items.length) {
      const larger = new Float64Array(2 * this.items.length + 3);
      larger.set(this.items);
      this.items = larger;
    }
    this.items[this.length++] = x;
    this.items[this.length++] = y;
    this.items[this.length++] = z;
  }

  /** The items so far, in an array of exactly their number. */
  finish(): Float64Array {
    return this.length === this.items.length ? this.items : this.items.slice(0, this.length);
  }
}

export class GrowableUint32 {
  length = 0;
  private items: Uint32Array;

  constructor(capacity = 3072) {
    this.items = new Uint32Array(capacity);
  }

  push(value: number): void {
    if (this.length === this.items.length) {
      const larger = new Uint32Array(2 * this.items.length + 1);
      larger.set(this.items);
      this.items = larger;
    }
    this.items[this.length++] = value;
  }

  at(index: number): number {
    return this.items[index];
  }

  /** The items so far, in an array of exactly their number. */
  finish(): Uint32Array {
    return this.length === this.items.length ? this.items : this.items.slice(0, this.length);
  }
}
