import { readFileSync } from 'node:fs';
import wabt from 'wabt';
import { describe, expect, it } from 'vitest';
import type { Kernel, Picture } from '@cast-to-last/pipeline/marks/learned/convolution';
import { CONVOLVE_PROGRAM } from '@cast-to-last/pipeline/marks/learned/convolve-program';
import { Convolution, halve, joinDoubled, placeOf } from '@cast-to-last/pipeline/marks/learned/convolution';
import { rng } from '../../../support/rng.ts';

const NETWORK = new URL('../../../../packages/pipeline/network/', import.meta.url);

function filled(picture: Picture, next: () => number): Picture {
  for (let r = 0; r < picture.size; r++) {
    for (let c = 0; c < picture.size; c++) for (let k = 0; k < picture.channels; k++) picture.values[placeOf(picture, r, c) + k] = next();
  }
  return picture;
}

/** One value of a convolution by its definition. */
function summed(from: Picture, { inputs, weights, bias }: Kernel, row: number, column: number, output: number): number {
  let sum = bias[output];
  for (let r = -1; r <= 1; r++) {
    for (let c = -1; c <= 1; c++) {
      if (row + r < 0 || column + c < 0 || row + r >= from.size || column + c >= from.size) continue;
      for (let i = 0; i < inputs; i++) {
        const block = (output - (output % 16)) * 9 * inputs;
        sum += from.values[placeOf(from, row + r, column + c) + i] * weights[block + ((3 * (r + 1) + c + 1) * inputs + i) * 16 + (output % 16)];
      }
    }
  }
  return sum;
}

describe('convolution', () => {
  it.each([[4, 7, 16, 1], [6, 16, 32, 2], [24, 3, 48, 3]])('of %i × %i cells, %i outputs, is what its definition says (seed %i)', (size, inputs, outputs, seed) => {
    const random = rng(seed);
    const next = (): number => random.normal();
    const convolution = new Convolution(1 << 20);
    const from = filled(convolution.picture(size, inputs), next);
    const kernel = { inputs, outputs, weights: convolution.room(9 * inputs * outputs), bias: convolution.room(outputs) };
    for (let i = 0; i < kernel.weights.length; i++) kernel.weights[i] = next();
    for (let i = 0; i < outputs; i++) kernel.bias[i] = next();
    const to = convolution.picture(size, outputs);
    convolution.convolve(from, kernel, to);
    for (const [row, column] of [[0, 0], [0, size - 1], [size - 1, 1], [1, 2], [size >> 1, size >> 1]]) {
      for (let k = 0; k < outputs; k++) {
        const sum = summed(from, kernel, row, column, k);
        expect(Math.abs(to.values[placeOf(to, row, column) + k] - (sum > 0 ? sum : 0.1 * sum))).toBeLessThan(1e-4);
      }
    }
    expect(to.values[0]).toBe(0);
  });

  it('throws where its memory is full', () => {
    expect(() => new Convolution(65536).room(16385)).toThrow(RangeError);
  });

  it('runs the program whose source lies beside it (assembled by wabt)', async () => {
    const source = readFileSync(new URL('convolve.wat', NETWORK), 'utf8');
    const assembled = (await wabt()).parseWat('convolve.wat', source, { simd: true }).toBinary({}).buffer;
    expect(Buffer.from(assembled).toString('base64')).toBe(CONVOLVE_PROGRAM);
  });
});

describe('pictures', () => {
  it('of half the size hold the means of four cells', () => {
    const convolution = new Convolution(1 << 16);
    const from = convolution.picture(4, 2);
    for (let r = 0; r < 4; r++) for (let c = 0; c < 4; c++) from.values.set([10 * r + c, -r], placeOf(from, r, c));
    const to = convolution.picture(2, 2);
    halve(from, to);
    expect([...to.values.subarray(placeOf(to, 1, 0), placeOf(to, 1, 0) + 2)]).toEqual([25.5, -2.5]);
    expect([...to.values.subarray(placeOf(to, 0, 1), placeOf(to, 0, 1) + 2)]).toEqual([7.5, -0.5]);
  });

  it('joined hold the coarse values of the cell that covers them, then the fine ones', () => {
    const convolution = new Convolution(1 << 16);
    const coarse = convolution.picture(2, 1);
    const fine = convolution.picture(4, 2);
    coarse.values[placeOf(coarse, 1, 0)] = 7;
    fine.values.set([8, 9], placeOf(fine, 3, 1));
    const to = convolution.picture(4, 3);
    joinDoubled(coarse, fine, to);
    expect([...to.values.subarray(placeOf(to, 3, 1), placeOf(to, 3, 1) + 3)]).toEqual([7, 8, 9]);
    expect([...to.values.subarray(placeOf(to, 3, 2), placeOf(to, 3, 2) + 3)]).toEqual([0, 0, 0]);
  });
});
