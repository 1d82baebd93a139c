import type { Calls } from './calls.js';

/** For each vertex the code of the last of the grounds that it lies on. Vertices are sorted into cells of the widest radius once. */
export function groundOf({ positions, grounds }: Parameters<Calls['ground']>[0]): Uint8Array {
  const codes = new Uint8Array(positions.length / 3);
  const widest = grounds.reduce((most, { radius }) => Math.max(most, Math.min(radius, 6)), 1);
  const keyOf = (x: number, y: number, z: number): number => ((x & 1023) << 20) | ((y & 1023) << 10) | (z & 1023);
  const cell = (c: number): number => Math.floor(c / widest);
  const cells = new Map<number, number[]>();
  for (let v = 0, i = 0; v < codes.length; v++, i += 3) {
    const key = keyOf(cell(positions[i]), cell(positions[i + 1]), cell(positions[i + 2]));
    const held = cells.get(key);
    if (held === undefined) cells.set(key, [v]);
    else held.push(v);
  }
  for (const { code, points, radius } of grounds) {
    const reach = Math.ceil(radius / widest);
    for (let i = 0; i < points.length; i += 3) {
      const [px, py, pz] = [points[i], points[i + 1], points[i + 2]];
      for (let x = cell(px) - reach; x <= cell(px) + reach; x++) {
        for (let y = cell(py) - reach; y <= cell(py) + reach; y++) {
          for (let z = cell(pz) - reach; z <= cell(pz) + reach; z++) {
            for (const v of cells.get(keyOf(x, y, z)) ?? []) {
              if (Math.hypot(positions[3 * v] - px, positions[3 * v + 1] - py, positions[3 * v + 2] - pz) <= radius) codes[v] = code;
            }
          }
        }
      }
    }
  }
  return codes;
}
