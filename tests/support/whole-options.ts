/** Options of a program that are whole numbers above 0, in the order of the names. Throws Error with the option's name. */
export function wholeOptions(values: Readonly<Record<string, unknown>>, ...names: readonly string[]): number[] {
  return names.map((name) => {
    const n = Number(values[name]);
    if (!Number.isInteger(n) || n < 1) throw new Error(`--${name} must be a whole number above 0`);
    return n;
  });
}
