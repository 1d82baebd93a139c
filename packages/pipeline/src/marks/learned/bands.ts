import { PICTURE } from './picture.js';

/** Width of the blur that each band leaves out twice, in cells (standard deviation), and the height that it is divided by, mm. */
const BANDS = [
  { blur: 1.3, height: 0.3 },
  { blur: 2.6, height: 0.8 },
  { blur: 4.2, height: 2 },
] as const;

/** A band counts no more than this many times its height. */
const MOST = 8;

/** Blurred cells lean on at least this share of covered ones. */
const LEAST_SHARE = 0.05;

const KERNELS = BANDS.map(({ blur }) => gaussian(blur));

/** What is left of heights once what changes slowly is taken off, twice: even and evenly bent ground vanishes. One band a width. */
export function bandsOf(height: Float32Array, covered: Float32Array): Float32Array[] {
  return BANDS.map((band, k) => {
    const share = blurred(covered, KERNELS[k]);
    let left: Float32Array = height;
    for (let round = 0; round < 2; round++) {
      const slow = blurred(left, KERNELS[k]);
      left = left.map((value, i) => (covered[i] === 0 ? 0 : value - slow[i] / Math.max(LEAST_SHARE, share[i])));
    }
    return left.map((value) => Math.max(-MOST, Math.min(MOST, value / band.height)));
  });
}

function gaussian(blur: number): Float64Array {
  const reach = Math.floor(3 * blur + 0.5);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * blur * blur)));
  const sum = kernel.reduce((a, b) => a + b, 0);
  return kernel.map((value) => value / sum);
}

/** Nothing lies beyond the grid. */
function blurred(values: Float32Array, kernel: Float64Array): Float32Array {
  return along(along(values, kernel, 1, PICTURE.size), kernel, PICTURE.size, 1);
}

/** @param step from a cell to the next along the lines that are blurred, and from line to line */
function along(values: Float32Array, kernel: Float64Array, step: number, lineStep: number): Float32Array {
  const { size } = PICTURE;
  const reach = (kernel.length - 1) / 2;
  const out = new Float32Array(values.length);
  for (let line = 0; line < size; line++) {
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let k = Math.max(-reach, -i); k <= Math.min(reach, size - 1 - i); k++) sum += kernel[k + reach] * values[line * lineStep + (i + k) * step];
      out[line * lineStep + i * step] = sum;
    }
  }
  return out;
}
