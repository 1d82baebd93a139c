import { MeshFormatError } from './format-error.js';

const TAB = 9;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;
const HASH = 35;
const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const BACKSLASH = 92;

/** Longer tokens than this are no numbers. */
const LONGEST_NUMBER = 400;

/** 10^0 to 10^22: the powers of ten that a double holds exactly. */
const EXACT_POWERS = Float64Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

const isDigit = (c: number): boolean => c >= ZERO && c <= 57;
const isBlank = (c: number): boolean => c === SPACE || c === TAB || c === 11 || c === 12;
const isLineEnd = (c: number): boolean => c === LINE_FEED || c === CARRIAGE_RETURN;
const isSpace = (c: number): boolean => isBlank(c) || isLineEnd(c);

/**
 * Reads words and numbers out of the bytes of a text file without making strings.
 * Throws MeshFormatError: `truncated-file` at the end of the bytes, `malformed-file` with the line number elsewhere.
 */
export class ByteScanner {
  at: number;
  private readonly bytes: Uint8Array;
  private readonly what: string;

  /** `what` names the file in messages, for example "ASCII STL file". */
  constructor(bytes: Uint8Array, at: number, what: string) {
    this.bytes = bytes;
    this.at = at;
    this.what = what;
  }

  atEnd(): boolean {
    return this.at >= this.bytes.length;
  }

  /** The byte under the cursor; −1 at the end. */
  peek(): number {
    return this.at < this.bytes.length ? this.bytes[this.at] : -1;
  }

  /** Past blanks and line ends. */
  skipSpace(): void {
    const { bytes } = this;
    let i = this.at;
    while (i < bytes.length && isSpace(bytes[i])) i++;
    this.at = i;
  }

  /** Past blanks within the line; a backslash before a line end continues the line. */
  skipBlanks(): void {
    const { bytes } = this;
    let i = this.at;
    while (i < bytes.length) {
      if (isBlank(bytes[i])) i++;
      else if (bytes[i] === BACKSLASH && bytes[i + 1] === LINE_FEED) i += 2;
      else if (bytes[i] === BACKSLASH && bytes[i + 1] === CARRIAGE_RETURN) i += bytes[i + 2] === LINE_FEED ? 3 : 2;
      else break;
    }
    this.at = i;
  }

  atWordEnd(): boolean {
    return this.at >= this.bytes.length || isSpace(this.bytes[this.at]) || this.bytes[this.at] === BACKSLASH;
  }

  atLineEnd(): boolean {
    return this.at >= this.bytes.length || isLineEnd(this.bytes[this.at]);
  }

  /** To the first byte of the next line. */
  skipLine(): void {
    const { bytes } = this;
    let i = this.at;
    while (i < bytes.length && !isLineEnd(bytes[i])) i++;
    while (i < bytes.length && isLineEnd(bytes[i])) i++;
    this.at = i;
  }

  /** To the first byte of the next line, minding lines that are continued by a backslash. */
  skipContinuedLine(): void {
    for (;;) {
      while (!this.atLineEnd()) this.at++;
      const continued = this.at > 0 && this.bytes[this.at - 1] === BACKSLASH;
      this.skipLine();
      if (!continued || this.atEnd()) return;
    }
  }

  /** Past the rest of a word; a backslash that continues the line is no part of it. */
  skipWord(): void {
    const { bytes } = this;
    let i = this.at;
    while (i < bytes.length && !isSpace(bytes[i]) && !(bytes[i] === BACKSLASH && isLineEnd(bytes[i + 1]))) i++;
    this.at = i;
  }

  /** Whether the word under the cursor is `word` (lower case), in any case; if so, past it. */
  takeWord(word: string): boolean {
    const { bytes, at } = this;
    const end = at + word.length;
    if (end > bytes.length || (end < bytes.length && !isSpace(bytes[end]))) return false;
    for (let k = 0; k < word.length; k++) {
      const c = bytes[at + k];
      const lower = c >= 65 && c <= 90 ? c + 32 : c;
      if (lower !== word.charCodeAt(k)) return false;
    }
    this.at = end;
    return true;
  }

  /** The whole number at the cursor, with an optional sign; the cursor stays behind its last digit. */
  readInteger(): number {
    const { bytes } = this;
    let i = this.at;
    const sign = bytes[i] === MINUS ? -1 : 1;
    if (bytes[i] === MINUS || bytes[i] === PLUS) i++;
    const first = i;
    let value = 0;
    while (i < bytes.length && isDigit(bytes[i])) value = value * 10 + (bytes[i++] - ZERO);
    if (i === first || i - first > LONGEST_NUMBER) throw this.unexpected('a whole number');
    this.at = i;
    return sign * value;
  }

  /**
   * The decimal number at the cursor as the nearest double; NaN and infinities as their usual spellings give them.
   * Up to 15 digits and powers of ten that a double holds exactly need one multiplication or division, correctly
   * rounded (W. D. Clinger, How to read floating point numbers accurately, PLDI 1990); the rest goes by `Number`.
   */
  readNumber(): number {
    const { bytes } = this;
    const end = bytes.length;
    const start = this.at;
    let i = start;
    const negative = bytes[i] === MINUS;
    if (negative || bytes[i] === PLUS) i++;
    let mantissa = 0;
    let digits = 0;
    let power = 0;
    while (i < end && isDigit(bytes[i])) {
      mantissa = mantissa * 10 + (bytes[i++] - ZERO);
      digits++;
    }
    if (bytes[i] === POINT) {
      i++;
      const whole = digits;
      while (i < end && isDigit(bytes[i])) {
        mantissa = mantissa * 10 + (bytes[i++] - ZERO);
        digits++;
      }
      power = whole - digits;
    }
    if (digits === 0 || bytes[i] === HASH) return this.readNotFinite(start);
    if (bytes[i] === 101 || bytes[i] === 69) {
      i++;
      const minus = bytes[i] === MINUS;
      if (minus || bytes[i] === PLUS) i++;
      const first = i;
      let exponent = 0;
      while (i < end && isDigit(bytes[i])) exponent = Math.min(exponent * 10 + (bytes[i++] - ZERO), 99999);
      if (i === first) throw this.unexpected('a number');
      power += minus ? -exponent : exponent;
    }
    if ((i < end && !isSpace(bytes[i]) && bytes[i] !== BACKSLASH) || i - start > LONGEST_NUMBER) throw this.unexpected('a number');
    this.at = i;
    if (mantissa <= Number.MAX_SAFE_INTEGER && power >= -22 && power <= 22) {
      const value = power < 0 ? mantissa / EXACT_POWERS[-power] : mantissa * EXACT_POWERS[power];
      return negative ? -value : value;
    }
    return Number(String.fromCharCode(...bytes.subarray(start, i)));
  }

  /** "nan", "inf", "infinity" and the spellings "1.#QNAN", "-1.#IND", "1.#INF", "-nan(ind)" of some C libraries. */
  private readNotFinite(start: number): number {
    let i = start;
    while (i < this.bytes.length && !isSpace(this.bytes[i]) && i - start < 16) i++;
    const word = String.fromCharCode(...this.bytes.subarray(start, i)).toLowerCase();
    if (!/^[+-]?(nan(\([a-z]*\))?|inf(inity)?|1\.#(q?s?nan|ind|inf)\d*)$/.test(word)) throw this.unexpected('a number');
    this.at = i;
    return /nan|ind/.test(word) ? NaN : Infinity;
  }

  /** The error for something else than `wanted` at the cursor. A word that the end of the file cuts off is no typing error. */
  unexpected(wanted: string): MeshFormatError {
    let wordEnd = this.at;
    while (wordEnd < this.bytes.length && !isSpace(this.bytes[wordEnd])) wordEnd++;
    if (wordEnd >= this.bytes.length) return new MeshFormatError('truncated-file', `The ${this.what} ends where ${wanted} should stand, so it is cut short.`);
    let line = 1;
    for (let i = 0; i < this.at; i++) {
      if (this.bytes[i] === LINE_FEED || (this.bytes[i] === CARRIAGE_RETURN && this.bytes[i + 1] !== LINE_FEED)) line++;
    }
    return new MeshFormatError('malformed-file', `Line ${line} of the ${this.what} does not hold ${wanted} where one should stand.`);
  }
}
