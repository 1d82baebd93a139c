import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ByteScanner } from '@cast-to-last/geometry/formats/byte-scanner';
import { ascii } from '../../support/mesh-files.ts';

const SEED = 20240517;
const read = (text: string): number => new ByteScanner(ascii(text), 0, 'test').readNumber();

describe('numbers from bytes', () => {
  it(`gives the nearest double, as Number does, for every way of printing one (seed ${SEED})`, () => {
    const print = fc.oneof(
      fc.constant((x: number) => String(x)),
      fc.integer({ min: 1, max: 21 }).map((d) => (x: number) => x.toPrecision(d)),
      fc.integer({ min: 0, max: 20 }).map((d) => (x: number) => x.toExponential(d)),
      fc.integer({ min: 0, max: 20 }).map((d) => (x: number) => x.toFixed(d)),
    );
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), print, (x, how) => {
        const text = how(x);
        expect(read(text)).toBe(Number(text));
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });
  it.each([
    ['+1.5', 1.5], ['-.5', -0.5], ['5.', 5], ['1E3', 1000], ['1e+03', 1000], ['007', 7], ['1e400', Infinity], ['1e-400', 0], ['-0', -0],
    ['123456789012345678901234567890', 1.2345678901234568e29], ['0.1234567890123456789', 0.12345678901234568],
  ])('%s', (text, value) => expect(read(text)).toBe(value));
  it.each(['nan', 'NaN', '-nan(ind)', '1.#QNAN', '-1.#IND', 'inf', '-Infinity', '1.#INF'])('%s is read, and is not finite', (text) => {
    expect(Number.isFinite(read(`${text} `))).toBe(false);
  });
  it.each(['x ', '1,5 ', '1.5.2 ', '--1 ', '1e ', '. ', '0x10 '])('"%s" is refused', (text) => {
    expect(() => read(text)).toThrow(expect.objectContaining({ code: 'malformed-file' }));
  });
  it('counts lines for messages with every kind of line end', () => {
    for (const eol of ['\n', '\r\n', '\r']) {
      const bytes = ascii(['1', '2', 'x', ''].join(eol));
      const scanner = new ByteScanner(bytes, bytes.indexOf(120), 'test');
      expect(() => scanner.readNumber()).toThrow('Line 3');
    }
  });
  it('calls a bad word at the very end a file cut short', () => {
    expect(() => read('1e')).toThrow(expect.objectContaining({ code: 'truncated-file' }));
  });
});
