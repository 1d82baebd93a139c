import type { Random } from '../random.js';

/** Gaussian numbers on the corners of a lattice, made from the corner's place; blended between them. */
function lattice(seed: number): (x: number, y: number, z: number) => number {
  const at = (i: number, j: number, k: number): number => {
    let h = Math.imul(i, 0x27d4eb2d) ^ Math.imul(j, 0x165667b1) ^ Math.imul(k, 0x1b873593) ^ seed;
    h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    h ^= h >>> 16;
    // Sum of four bytes, nearly normal, variance 1.
    return ((h & 255) + ((h >>> 8) & 255) + ((h >>> 16) & 255) + (h >>> 24) - 510) / 147.8;
  };
  return (x, y, z) => {
    const [i, j, k] = [Math.floor(x), Math.floor(y), Math.floor(z)];
    const [u, v, w] = [x - i, y - j, z - k];
    let sum = 0;
    let squares = 0;
    for (let c = 0; c < 8; c++) {
      const weight = (c & 1 ? u : 1 - u) * (c & 2 ? v : 1 - v) * (c & 4 ? w : 1 - w);
      sum += weight * at(i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2));
      squares += weight * weight;
    }
    return sum / Math.sqrt(squares);
  };
}

/**
 * Noise of a structured-light scanner, added to `positions` in place: the cast is seen from several sides; each vertex is
 * off along the line of sight that faces it best, by `sd` mm for a surface seen squarely (more at a slant), half of it
 * correlated over about 1.5 mm; three in a thousand are off by four times as much.
 */
export function addScanNoise(positions: Float64Array, normals: Float64Array, sd: number, random: Random): void {
  if (sd <= 0) return;
  const views = Array.from({ length: 9 }, (_, i) => {
    const height = i < 7 ? random.between(-0.35, 0.75) : i === 7 ? 1 : -1;
    const turn = (2 * Math.PI * (i + random.between(-0.3, 0.3))) / 7;
    const r = Math.sqrt(Math.max(0, 1 - height * height));
    return [r * Math.cos(turn), r * Math.sin(turn), height];
  });
  const smooth = lattice(random.whole(0, 2 ** 31 - 1));
  const scale = 1 / random.between(1.2, 2);
  for (let i = 0; i < positions.length; i += 3) {
    let best = 0;
    let facing = -1;
    for (let v = 0; v < views.length; v++) {
      const f = views[v][0] * normals[i] + views[v][1] * normals[i + 1] + views[v][2] * normals[i + 2];
      if (f > facing) {
        facing = f;
        best = v;
      }
    }
    const correlated = smooth(positions[i] * scale, positions[i + 1] * scale, positions[i + 2] * scale);
    let off = sd * Math.SQRT1_2 * (correlated + random.normal(0, 1)) / Math.max(0.4, facing);
    if (random.next() < 0.003) off *= 4;
    for (let k = 0; k < 3; k++) positions[i + k] += off * views[best][k];
  }
}
