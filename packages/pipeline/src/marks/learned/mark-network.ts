import { bandsOf } from './bands.js';
import type { Kernel } from './convolution.js';
import { Convolution, halve, joinDoubled, placeOf } from './convolution.js';
import { NETWORK_WEIGHTS } from './network-weights.js';
import type { PatchGrid } from './patch-grid.js';
import { PICTURE } from './picture.js';

/** What the grid's values are divided by. */
const SCALE = { height: 5, drawnIn: 5, turned: 0.5 } as const;

/** Channels of the pictures of full, half and quarter size, and of what goes in. */
const INPUT = 7;
const FINE = 16;
const MIDDLE = 32;
const COARSE = 48;

/** Inputs and outputs of each convolution, in the order in which the weights hold them; one more makes the one value that comes out. */
const LAYERS = [
  [INPUT, FINE], [FINE, FINE], [FINE, MIDDLE], [MIDDLE, MIDDLE], [MIDDLE, COARSE], [COARSE, COARSE], [COARSE + MIDDLE, MIDDLE], [MIDDLE + FINE, FINE],
] as const;
const LAST = 9 * FINE + 1;

/** Weights, biases and pictures take less than this, bytes. */
const MEMORY = 1 << 20;

/**
 * A small convolutional network (encoder and decoder with skip connections: Ronneberger, Fischer & Brox 2015) that says of a
 * piece of surface how far a mark has moved each place of it. How it was taught stands in packages/pipeline/network.
 */
export class MarkNetwork {
  private readonly convolution = new Convolution(MEMORY);
  private readonly kernels: readonly Kernel[];
  /** Weights of the last convolution, cell by cell, and its bias. */
  private readonly last: Float32Array;
  private readonly rooms;

  /** @param values weights and biases of the layers, one after the other: a layer's weights as `Kernel` orders them, then its biases; the last layer's weights cell by cell, and its bias */
  constructor(values: Float32Array) {
    const wanted = LAYERS.reduce((sum, [inputs, outputs]) => sum + (9 * inputs + 1) * outputs, LAST);
    if (values.length !== wanted) throw new RangeError(`the network needs ${wanted} numbers, ${values.length} were given`);
    let at = 0;
    const take = (count: number): Float32Array => {
      const room = this.convolution.room(count);
      room.set(values.subarray(at, at + count));
      at += count;
      return room;
    };
    this.kernels = LAYERS.map(([inputs, outputs]) => ({ inputs, outputs, weights: take(9 * inputs * outputs), bias: take(outputs) }));
    this.last = take(LAST);
    const { size } = PICTURE;
    const picture = (part: number, channels: number) => this.convolution.picture(size / part, channels);
    this.rooms = {
      input: picture(1, INPUT), fine: picture(1, FINE), fineOut: picture(1, FINE),
      half: picture(2, FINE), middle: picture(2, MIDDLE), middleOut: picture(2, MIDDLE),
      quarter: picture(4, MIDDLE), coarse: picture(4, COARSE), coarseOut: picture(4, COARSE),
      joinedMiddle: picture(2, COARSE + MIDDLE), joinedFine: picture(1, MIDDLE + FINE),
    };
  }

  /** By how much marks have moved each cell along its normal, mm, row by row; negative into the cast. */
  heights(grid: PatchGrid): Float32Array {
    const { input, fine, fineOut, half, middle, middleOut, quarter, coarse, coarseOut, joinedMiddle, joinedFine } = this.rooms;
    const { convolution, kernels: k } = this;
    this.fillInput(grid);
    convolution.convolve(input, k[0], fine);
    convolution.convolve(fine, k[1], fineOut);
    halve(fineOut, half);
    convolution.convolve(half, k[2], middle);
    convolution.convolve(middle, k[3], middleOut);
    halve(middleOut, quarter);
    convolution.convolve(quarter, k[4], coarse);
    convolution.convolve(coarse, k[5], coarseOut);
    joinDoubled(coarseOut, middleOut, joinedMiddle);
    convolution.convolve(joinedMiddle, k[6], middle);
    joinDoubled(middle, fineOut, joinedFine);
    convolution.convolve(joinedFine, k[7], fine);
    return this.sums();
  }

  private fillInput({ height, drawnIn, turned, covered }: PatchGrid): void {
    const { input } = this.rooms;
    const bands = bandsOf(height, covered);
    for (let cell = 0; cell < covered.length; cell++) {
      const at = placeOf(input, Math.floor(cell / PICTURE.size), cell % PICTURE.size);
      input.values[at] = height[cell] / SCALE.height;
      input.values[at + 1] = drawnIn[cell] / SCALE.drawnIn;
      input.values[at + 2] = turned[cell] / SCALE.turned;
      input.values[at + 3] = covered[cell];
      bands.forEach((band, k) => (input.values[at + 4 + k] = band[cell]));
    }
  }

  /** The last convolution, to one value a cell. */
  private sums(): Float32Array {
    const { last } = this;
    const { values, channels, size } = this.rooms.fine;
    const out = new Float32Array(size * size);
    for (let cell = 0; cell < out.length; cell++) {
      const at = placeOf(this.rooms.fine, Math.floor(cell / size) - 1, (cell % size) - 1);
      let sum = last[LAST - 1];
      for (let r = 0; r < 3; r++) {
        const from = at + r * (size + 2) * channels;
        for (let i = 0; i < 3 * channels; i++) sum += values[from + i] * last[3 * r * channels + i];
      }
      out[cell] = sum;
    }
    return out;
  }
}

let network: MarkNetwork | null = null;

/** The network as it was taught; made once a process. */
export const markNetwork = (): MarkNetwork => (network ??= new MarkNetwork(fromHalf(NETWORK_WEIGHTS)));

/** Numbers from 16-bit floats (IEEE 754 binary16, little-endian) in base64. */
function fromHalf(base64: string): Float32Array {
  const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  return Float32Array.from({ length: bytes.length / 2 }, (_, i) => {
    const bits = bytes[2 * i] | (bytes[2 * i + 1] << 8);
    const exponent = (bits >> 10) & 31;
    const fraction = (bits & 1023) / 1024;
    return (bits >> 15 === 1 ? -1 : 1) * (exponent === 0 ? fraction * 2 ** -14 : (1 + fraction) * 2 ** (exponent - 15));
  });
}
