import type { Rng } from './rng.ts';

const COUNTS = [0, 1, 0x7fffffff, 0x80000000, 0xffffffff, 0x00010000];

/** A copy of the bytes with one to four wounds: cut short, bytes turned over, a stretch from elsewhere, huge counts. */
export function mutate(bytes: Uint8Array, other: Uint8Array, random: Rng): Uint8Array {
  let out: Uint8Array = bytes.slice();
  for (let wounds = 1 + random.below(4); wounds > 0; wounds--) out = wound(out, other, random);
  return out;
}

function wound(bytes: Uint8Array, other: Uint8Array, random: Rng): Uint8Array {
  if (bytes.length < 8) return bytes;
  // Heads of files are short and decide most: every other wound goes there.
  const at = random.next() < 0.5 ? random.below(Math.min(300, bytes.length - 4)) : random.below(bytes.length - 4);
  const stretch = 1 + random.below(60);
  switch (random.below(7)) {
    case 0:
      return bytes.slice(0, random.below(bytes.length));
    case 1:
      bytes[at] ^= 1 << random.below(8);
      return bytes;
    case 2:
      for (let i = at; i < Math.min(at + stretch, bytes.length); i++) bytes[i] = random.below(256);
      return bytes;
    case 3:
      new DataView(bytes.buffer).setUint32(at, COUNTS[random.below(COUNTS.length)], random.next() < 0.5);
      return bytes;
    case 4: {
      const from = random.below(Math.max(1, other.length - stretch));
      return Uint8Array.from([...bytes.subarray(0, at), ...other.subarray(from, from + stretch), ...bytes.subarray(at + random.below(stretch))]);
    }
    case 5:
      return Uint8Array.from([...bytes.subarray(0, at), ...bytes.subarray(at + stretch)]);
    default: {
      // A number in the text becomes a huge one.
      let digit = at;
      while (digit < bytes.length && (bytes[digit] < 48 || bytes[digit] > 57)) digit++;
      const huge = new TextEncoder().encode(['4294967295', '-1', '1e300', '99999999999999', 'nan'][random.below(5)]);
      return Uint8Array.from([...bytes.subarray(0, digit), ...huge, ...bytes.subarray(digit + 1)]);
    }
  }
}
