import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MarkNetwork, markNetwork } from '@cast-to-last/pipeline/marks/learned/mark-network';
import { PICTURE } from '@cast-to-last/pipeline/marks/learned/picture';

/** A patch that the network was taught on, and what PyTorch 2.13.0 makes of it with the weights as they were taught, 32 bits each. */
const known: { readonly [name: string]: number[] } = JSON.parse(readFileSync(new URL('known-answer.json', import.meta.url), 'utf8'));
const grid = {
  height: Float32Array.from(known.height), drawnIn: Float32Array.from(known.drawnIn), turned: Float32Array.from(known.turned), covered: Float32Array.from(known.covered),
};

describe('network', () => {
  it('says of a patch what PyTorch says of it, to what weights of 16 bits allow', () => {
    const said = markNetwork().heights(grid);
    expect(said.length).toBe(PICTURE.size ** 2);
    const most = Math.max(...known.said.map(Math.abs));
    expect(most).toBeGreaterThan(0.3);
    for (let cell = 0; cell < said.length; cell++) if (grid.covered[cell] === 1) expect(Math.abs(said[cell] - known.said[cell])).toBeLessThan(0.01);
  });

  it('says the same again, whatever it looked at in between', () => {
    const before = markNetwork().heights(grid);
    markNetwork().heights({ ...grid, height: grid.height.map((h) => -h) });
    expect(markNetwork().heights(grid)).toEqual(before);
  });

  it('takes no other number of weights', () => {
    expect(() => new MarkNetwork(new Float32Array(1000))).toThrow(RangeError);
  });
});
