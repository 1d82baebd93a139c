/** Options of a program that are whole numbers above 0, in the order of the names. Throws, as parseArgs does for what it cannot read, with the option's name. */
export function wholeOptions(values: Readonly<Record<string, unknown>>, ...names: readonly string[]): number[] {
  return names.map((name) => {
    const n = Number(values[name]);
    if (!Number.isInteger(n) || n < 1) throw Object.assign(new Error(`--${name} must be a whole number above 0`), { code: 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE' });
    return n;
  });
}
