/** Bytes that `work` asks for in typed arrays by length, freed or not. Restores the globals in the end. */
export function countAllocations(work: () => void): number {
  const names = ['Float64Array', 'Float32Array', 'Uint32Array', 'Int32Array', 'Uint8Array'] as const;
  const globals = globalThis as unknown as Record<string, new (...args: never[]) => { byteLength: number }>;
  const originals = names.map((name) => globals[name]);
  let total = 0;
  names.forEach((name, i) => {
    globals[name] = class extends originals[i] {
      constructor(...args: never[]) {
        // Counted before the array is made, so that a request which the machine refuses counts as well.
        if (typeof args[0] === 'number') total += args[0] * (originals[i] as unknown as { BYTES_PER_ELEMENT: number }).BYTES_PER_ELEMENT;
        super(...args);
      }
    };
  });
  try {
    work();
  } finally {
    names.forEach((name, i) => (globals[name] = originals[i]));
  }
  return total;
}
