import { createHash } from 'node:crypto';

/** JSON with the keys of every object in order, so that equal values give equal text. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).filter(([, v]) => v !== undefined).sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${entries.map(([k, v]) => `${JSON.stringify(k)}:${canonicalJson(v)}`).join(',')}}`;
  }
  return JSON.stringify(value ?? null);
}

export const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');

/** The digest of a value by its canonical JSON. */
export const jsonSha256 = (value: unknown): string => sha256(canonicalJson(value));
