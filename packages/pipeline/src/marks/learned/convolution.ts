import { CONVOLVE_PROGRAM } from './convolve-program.js';

/** A square picture of several values a cell, row by row, cell by cell, with one empty cell round it on every side. */
export interface Picture {
  readonly size: number;
  readonly channels: number;
  /** (size + 2)² × channels, in the convolution's memory. */
  readonly values: Float32Array;
}

/** Weights of a 3 × 3 convolution, in its memory: for each sixteen outputs each of the nine cells each input, sixteen values. */
export interface Kernel {
  readonly inputs: number;
  /** A multiple of sixteen. */
  readonly outputs: number;
  readonly weights: Float32Array;
  readonly bias: Float32Array;
}

/** What is used of WebAssembly, which Node.js has and the language's own library does not name. */
interface Assembly {
  readonly Memory: new (size: { readonly initial: number }) => { readonly buffer: ArrayBuffer };
  readonly Module: new (program: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: Readonly<Record<string, unknown>> };
}
const { Memory, Module, Instance } = (globalThis as unknown as { readonly WebAssembly: Assembly }).WebAssembly;

type Convolve = (from: number, inputs: number, size: number, weights: number, bias: number, to: number, outputs: number, leak: number) => void;

const PAGE = 65536;

/** What a negative sum is multiplied by: a leaky rectifier. */
const LEAK = 0.1;

/** Convolutions, and the memory that their pictures and weights lie in. */
export class Convolution {
  private readonly memory: ArrayBuffer;
  private readonly run: Convolve;
  private used = 0;

  /** @param bytes room for all pictures and kernels, in bytes */
  constructor(bytes: number) {
    const memory = new Memory({ initial: Math.ceil(bytes / PAGE) });
    const { exports } = new Instance(new Module(Uint8Array.from(atob(CONVOLVE_PROGRAM), (c) => c.charCodeAt(0))), { host: { memory } });
    this.memory = memory.buffer;
    this.run = exports.convolve as Convolve;
  }

  /** So many numbers in the memory. Throws RangeError where it is full. */
  room(length: number): Float32Array {
    const room = new Float32Array(this.memory, this.used, length);
    this.used += 4 * length;
    return room;
  }

  picture(size: number, channels: number): Picture {
    return { size, channels, values: this.room((size + 2) * (size + 2) * channels) };
  }

  /** `to` = leaky rectifier of the convolution of `from`. The pictures are of one size, which is even. */
  convolve(from: Picture, { weights, bias }: Kernel, to: Picture): void {
    this.run(from.values.byteOffset, from.channels, from.size, weights.byteOffset, bias.byteOffset, to.values.byteOffset, to.channels, LEAK);
  }
}

/** `to`, of half the size: the mean of each four cells of `from`. */
export function halve(from: Picture, to: Picture): void {
  const { channels } = from;
  const row = (from.size + 2) * channels;
  for (let r = 0; r < to.size; r++) {
    for (let c = 0; c < to.size; c++) {
      const at = placeOf(to, r, c);
      const under = placeOf(from, 2 * r, 2 * c);
      for (let k = 0; k < channels; k++) {
        const i = under + k;
        to.values[at + k] = 0.25 * (from.values[i] + from.values[i + channels] + from.values[i + row] + from.values[i + row + channels]);
      }
    }
  }
}

/** `to`, of twice the size of `coarse` and the size of `fine`: each cell's coarse values, then its fine ones. */
export function joinDoubled(coarse: Picture, fine: Picture, to: Picture): void {
  for (let r = 0; r < to.size; r++) {
    for (let c = 0; c < to.size; c++) {
      const at = placeOf(to, r, c);
      const over = placeOf(coarse, r >> 1, c >> 1);
      const same = placeOf(fine, r, c);
      for (let k = 0; k < coarse.channels; k++) to.values[at + k] = coarse.values[over + k];
      for (let k = 0; k < fine.channels; k++) to.values[at + coarse.channels + k] = fine.values[same + k];
    }
  }
}

/** Where the values of a cell begin. */
export const placeOf = ({ size, channels }: Picture, row: number, column: number): number => ((row + 1) * (size + 2) + column + 1) * channels;
