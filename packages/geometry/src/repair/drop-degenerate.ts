/**
 * Drops triangles that name a vertex twice, and all but the first of triangles that name the same three vertices,
 * whichever way they turn. Linear: a hash table on the sorted vertex triple.
 */
export interface Distinct {
  /** The triangles that stay, in their order. */
  readonly triangles: Uint32Array;
  readonly degenerate: number;
  readonly duplicate: number;
}

export function dropDegenerate(triangles: Uint32Array): Distinct {
  const count = triangles.length / 3;
  const size = 1 << Math.max(4, Math.ceil(Math.log2(1.5 * count + 1)));
  const slots = new Int32Array(size).fill(-1);
  const out = new Uint32Array(triangles.length);
  let kept = 0;
  let degenerate = 0;
  let duplicate = 0;
  for (let t = 0; t < count; t++) {
    const a = triangles[3 * t];
    const b = triangles[3 * t + 1];
    const c = triangles[3 * t + 2];
    if (a === b || b === c || c === a) {
      degenerate++;
      continue;
    }
    const low = Math.min(a, b, c);
    const high = Math.max(a, b, c);
    const middle = a === low ? (b === high ? c : b) : b === low ? (a === high ? c : a) : a === high ? b : a;
    let h = Math.imul(low, 0x9e3779b1) ^ Math.imul(middle, 0x85ebca6b) ^ Math.imul(high, 0xc2b2ae35);
    h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
    let slot = (h ^ (h >>> 13)) & (size - 1);
    let same = false;
    for (; slots[slot] >= 0; slot = (slot + 1) & (size - 1)) {
      const s = 3 * slots[slot];
      const x = out[s];
      const y = out[s + 1];
      const z = out[s + 2];
      if ((x === a || x === b || x === c) && (y === a || y === b || y === c) && (z === a || z === b || z === c)) {
        same = true;
        break;
      }
    }
    if (same) {
      duplicate++;
      continue;
    }
    slots[slot] = kept;
    out[3 * kept] = a;
    out[3 * kept + 1] = b;
    out[3 * kept + 2] = c;
    kept++;
  }
  return { triangles: out.slice(0, 3 * kept), degenerate, duplicate };
}
