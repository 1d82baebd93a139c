import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { sampleFiles, SAMPLES } from './samples.js';

const sha256 = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');
const committed = (name: string): Buffer => readFileSync(new URL(`../../sample-meshes/${name}`, import.meta.url));

describe('sample casts', () => {
  it.each(SAMPLES.map((s) => [s.name, s] as const))('%s is remade bit for bit', (name, sample) => {
    const { stl, truth } = sampleFiles(sample);
    expect(sha256(stl)).toBe(sha256(committed(`${name}.stl`)));
    expect(sha256(truth)).toBe(sha256(committed(`${name}.truth.json`)));
    expect(stl.length).toBeLessThan(1_000_000);
  });

  it('holds left and right of the same feet', () => {
    const length = (name: string): number => (JSON.parse(committed(`${name}.truth.json`).toString('utf8')) as { measures: { 'foot-length': number } }).measures['foot-length'];
    for (const order of ['2041', '2043']) expect(Math.abs(length(`${order}-left`) - length(`${order}-right`))).toBeLessThan(8);
  });
});
