const POWERS = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/** The greatest number of 31 bits, and the powers up to it. */
const MOST_INT = 0x7fffffff;
const INT_POWERS = Int32Array.from(POWERS.filter((power) => power <= MOST_INT));

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
    const { bytes, length } = this;
    // The pieces are short, and millions: `set` takes longer to begin than this to end.
    for (let i = 0; i < ascii.length; i++) bytes[length + i] = ascii[i];
    this.length = length + ascii.length;
  }

  /** Up to DECIMALS decimals, no trailing zeros, never an exponent. |value| up to 1e9. */
  coordinate(value: number): void {
    this.makeRoom(24);
    let scaled = Math.round(Math.abs(value) * POWERS[DECIMALS]);
    if (value < 0 && scaled > 0) this.bytes[this.length++] = 45;
    let decimals = DECIMALS;
    if (scaled <= MOST_INT) {
      let whole = scaled | 0;
      while (decimals > 0 && whole % 10 === 0) {
        whole = (whole / 10) | 0;
        decimals--;
      }
      this.intDigits(whole, decimals);
      return;
    }
    while (decimals > 0 && scaled % 10 === 0) {
      scaled /= 10;
      decimals--;
    }
    this.digits(scaled, decimals);
  }

  index(value: number): void {
    this.makeRoom(24);
    if (value <= MOST_INT) this.intDigits(value | 0, 0);
    else this.digits(value, 0);
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

  /** The same of a number of 31 bits, which the engine divides without floats. */
  private intDigits(value: number, decimals: number): void {
    let count = decimals + 1;
    while (count < INT_POWERS.length && value >= INT_POWERS[count]) count++;
    const { bytes } = this;
    let rest = value;
    let at = this.length + count + (decimals > 0 ? 1 : 0);
    this.length = at;
    for (let k = 0; k < count; k++) {
      if (k === decimals && k > 0) bytes[--at] = 46;
      const tenth = (rest / 10) | 0;
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
