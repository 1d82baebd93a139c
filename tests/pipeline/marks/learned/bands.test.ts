import { describe, expect, it } from 'vitest';
import { bandsOf } from '@cast-to-last/pipeline/marks/learned/bands';
import { PICTURE } from '@cast-to-last/pipeline/marks/learned/picture';

const { size } = PICTURE;
const picture = (at: (x: number, y: number) => number): Float32Array => Float32Array.from({ length: size * size }, (_, i) => at((i % size) - 11.5, Math.floor(i / size) - 11.5));
const everywhere = picture(() => 1);
const middle = 11 * size + 11;

describe('bands', () => {
  it('of even ground are nothing, to the edge', () => {
    for (const band of bandsOf(picture(() => 3), everywhere)) expect(Math.max(...band.map(Math.abs))).toBeLessThan(1e-5);
  });

  it('of sloping and evenly bent ground are nothing in the middle, where the blur does not reach the edge', () => {
    const [narrow] = bandsOf(picture((x, y) => 0.3 * x - 0.1 * y + 0.02 * x * x - 0.01 * x * y + 0.001 * y ** 3), everywhere);
    expect(Math.abs(narrow[middle])).toBeLessThan(1e-4);
  });

  it('of a wave keep the share (1 − e^(−k²b²/2))² of it, for a blur of b cells (closed form)', () => {
    const k = (2 * Math.PI) / 6;
    const [narrow] = bandsOf(picture((x) => Math.cos(k * (x + 0.5))), everywhere);
    const share = (1 - Math.exp(-(k * k * 1.3 * 1.3) / 2)) ** 2;
    expect(Math.abs(0.3 * narrow[middle] - share)).toBeLessThan(0.01);
  });

  it('are nothing where nothing is covered, and what is not covered blurs nothing', () => {
    const half = picture((x) => (x < 0 ? 1 : 0));
    for (const band of bandsOf(picture((x) => (x < 0 ? 2 : 0)), half)) expect(Math.max(...band.map(Math.abs))).toBeLessThan(1e-5);
  });
});
