export interface FaultAt {
  readonly path: string;
  readonly message: string;
}

/** Nothing that the service takes is nested so deep; what is deeper could fill the stack of whoever walks it. */
const MOST_LEVELS = 40;
const HALF = /\p{Surrogate}/u;

/** What nothing that comes from outside may hold, whatever it is for: the sign U+0000 and halves of signs, which no text of a database can have, and nesting without end. */
export function textFaults(value: unknown, path = '', level = 0): FaultAt[] {
  if (typeof value === 'string') {
    if (value.includes('\0')) return [{ path, message: 'holds the sign U+0000, which no text may' }];
    return HALF.test(value) ? [{ path, message: 'holds half of a sign (a surrogate without its other)' }] : [];
  }
  if (typeof value !== 'object' || value === null) return [];
  if (level >= MOST_LEVELS) return [{ path: path.split('.', 3).join('.'), message: `is nested more than ${MOST_LEVELS} levels deep` }];
  return Object.entries(value).flatMap(([key, inner]) => [
    ...(key.includes('\0') || HALF.test(key) ? [{ path, message: 'has a key with the sign U+0000 or half of a sign, which no key may have' }] : []),
    ...textFaults(inner, path === '' ? key : `${path}.${key}`, level + 1),
  ]);
}
