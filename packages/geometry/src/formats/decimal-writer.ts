const POWERS = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/** Decimals of a coordinate: 1e-5 mm, finer than the float32 of the other formats at the size of a foot. */
const DECIMALS = 5;

/** Writes ASCII text and decimal numbers into bytes that grow, without making strings for the numbers. */
export class DecimalWriter {
  private bytes: Uint8Array;
  private length = 0;

  constructor(capacity: number) {
    this.bytes = new Uint8Array(capacity);
  }

  text(ascii: Uint8Array): void {
    this.makeRoom(ascii.length);
    this.bytes.set(ascii, this.length);
    this.length += ascii.length;
  }

  /** Up to DECIMALS decimals, no trailing zeros, never an exponent. |value| up to 1e9. */
  coordinate(value: number): void {
    this.makeRoom(24);
    let scaled = Math.round(Math.abs(value) * POWERS[DECIMALS]);
    if (value < 0 && scaled > 0) this.bytes[this.length++] = 45;
    let decimals = DECIMALS;
    while (decimals > 0 && scaled % 10 === 0) {
      scaled /= 10;
      decimals--;
    }
    this.digits(scaled, decimals);
  }

  index(value: number): void {
    this.makeRoom(24);
    this.digits(value, 0);
  }

  finish(): Uint8Array {
    return this.bytes.subarray(0, this.length);
  }

  /** A whole number, with a point before its last `decimals` digits. */
  private digits(value: number, decimals: number): void {
    let count = decimals + 1;
    while (count < POWERS.length && value >= POWERS[count]) count++;
    const from = this.length;
    const { bytes } = this;
    let rest = value;
    let at = from + count + (decimals > 0 ? 1 : 0);
    this.length = at;
    for (let k = 0; k < count; k++) {
      if (k === decimals && decimals > 0) bytes[--at] = 46;
      const tenth = Math.floor(rest / 10);
      bytes[--at] = 48 + (rest - 10 * tenth);
      rest = tenth;
    }
  }

  private makeRoom(more: number): void {
    if (this.length + more <= this.bytes.length) return;
    const larger = new Uint8Array(2 * this.bytes.length + more);
    larger.set(this.bytes);
    this.bytes = larger;
  }
}
