import type { Readable } from 'node:stream';

/** Bytes under keys, in a folder or an object store. What is there was written whole. */
export interface Blobs {
  /** Puts bytes, over what was there. `durable` (the default): they outlast a power cut once this resolves. */
  put(key: string, bytes: Uint8Array, options?: { readonly durable?: boolean }): Promise<void>;
  /** Puts a file of this machine, which may be moved away; always durable. */
  putFile(key: string, path: string): Promise<void>;
  /** Null where there is nothing. `range` is in bytes, both ends included. */
  get(key: string, range?: ByteRange): Promise<OpenBlob | null>;
  bytes(key: string): Promise<Uint8Array | null>;
  stat(key: string): Promise<BlobStat | null>;
  /** Does nothing where there is nothing. */
  remove(key: string): Promise<void>;
  /** All under a prefix that ends in a slash, in no order. */
  list(prefix: string): AsyncIterable<BlobStat>;
  /** Marks as used now, where the store can. */
  touch(key: string): Promise<void>;
}

export interface ByteRange {
  readonly start: number;
  readonly end: number;
}

export interface OpenBlob {
  /** Bytes of the whole, whatever the range. */
  readonly size: number;
  readonly stream: Readable;
}

export interface BlobStat {
  readonly key: string;
  readonly size: number;
  readonly changedAtMs: number;
}

/** Keys are path-like: parts of lower-case letters, digits, dots and hyphens, none beginning with a dot. */
export function checkKey(key: string): string {
  if (!/^[a-z0-9][a-z0-9.-]*(\/[a-z0-9][a-z0-9.-]*)*$/.test(key)) throw new Error(`${JSON.stringify(key)} is no key of a blob.`);
  return key;
}
