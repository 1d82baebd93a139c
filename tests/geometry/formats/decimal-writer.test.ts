import { describe, expect, it } from 'vitest';
import { DecimalWriter } from '@cast-to-last/geometry/formats/decimal-writer';
import { rng } from '../../support/rng.ts';

const written = (write: (out: DecimalWriter) => void): string => {
  const out = new DecimalWriter(1);
  write(out);
  return new TextDecoder().decode(out.finish());
};
const coordinate = (value: number): string => written((out) => out.coordinate(value));
const index = (value: number): string => written((out) => out.index(value));

describe('DecimalWriter', () => {
  it('writes coordinates as decimals without an exponent, a trailing zero or a negative nought', () => {
    for (const [value, text] of [[0, '0'], [-0.000004, '0'], [0.00001, '0.00001'], [-12.5, '-12.5'], [100, '100'], [1e9, '1000000000'], [-0.1, '-0.1']] as const) expect(coordinate(value)).toBe(text);
  });

  it('writes what the engine itself rounds to, on either side of 31 bits', () => {
    // 21474.83647 mm is the last coordinate whose hundred-thousandths have 31 bits.
    const values = [21474.83646, 21474.83647, 21474.83648, 21474.8365, 99999.99999];
    const random = rng(7);
    for (let n = 0; n < 500; n++) values.push((random.next() - 0.5) * 10 ** random.below(9));
    for (const value of values) {
      const rounded = (Math.sign(value) * Math.round(Math.abs(value) * 1e5)) / 1e5;
      expect(coordinate(value), String(value)).toBe(rounded === 0 ? '0' : String(Number(rounded.toFixed(5))));
    }
    for (const value of [0, 9, 10, 2147483646, 2147483647, 2147483648, 4294967295]) expect(index(value)).toBe(String(value));
  });

  it('makes room as it goes', () => {
    const text = new TextEncoder().encode('" y="');
    const all = written((out) => {
      for (let n = 0; n < 100; n++) {
        out.index(n);
        out.text(text);
      }
    });
    expect(all).toBe(Array.from({ length: 100 }, (_, n) => `${n}" y="`).join(''));
  });
});
