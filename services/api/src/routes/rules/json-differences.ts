export interface JsonDifference {
  /** Keys joined by dots. */
  readonly path: string;
  /** Absent where there is no such key. */
  readonly from?: unknown;
  readonly to?: unknown;
}

const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value);

/** Where two JSON values differ, in the order of their keys. Lists differ as a whole. */
export function jsonDifferences(from: unknown, to: unknown, path = ''): JsonDifference[] {
  if (!isObject(from) || !isObject(to)) {
    if (JSON.stringify(from) === JSON.stringify(to)) return [];
    return [{ path, ...(from !== undefined && { from }), ...(to !== undefined && { to }) }];
  }
  const keys = [...new Set([...Object.keys(from), ...Object.keys(to)])];
  return keys.flatMap((key) => jsonDifferences(from[key], to[key], path === '' ? key : `${path}.${key}`));
}
