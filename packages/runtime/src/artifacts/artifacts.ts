import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { PassThrough, Transform, pipeline } from 'node:stream';
import type { Readable } from 'node:stream';
import { sha256 as sha256Of } from '@cast-to-last/pipeline/digest';
import { steadyNow } from '../steady-now.js';
import type { Blobs, ByteRange, OpenBlob } from './blobs.js';
import { NoSuchArtifact, WrongOffset, damaged, missing, tooLarge } from './refusals.js';
import { READ_BYTES, append, unpacked } from './unfinished.js';

/** What is kept of a file: its digest is its name. */
export interface Stored {
  readonly sha256: string;
  /** bytes */
  readonly size: number;
}

export interface FinishOptions {
  /** How the parts were packed; as they are where absent. */
  readonly encoding?: 'gzip' | undefined;
  /** Of what is kept. */
  readonly maxBytes?: number;
  readonly see?: (chunk: Uint8Array) => void;
}

export interface Artifacts {
  /** Keeps bytes; durable once this resolves. The same bytes are kept once. Throws TooLarge while it reads. */
  add(source: Uint8Array | AsyncIterable<Uint8Array>, options?: { readonly maxBytes?: number }): Promise<Stored>;
  /** Keeps bytes whose digest the caller made of them; durable once this resolves. */
  addDigested(bytes: Uint8Array, sha256: string): Promise<Stored>;
  /** Adds to an upload that comes in parts; bytes that arrived before a line broke stay. Gives the bytes that are there. Throws WrongOffset, TooLarge. */
  addPart(uploadId: string, offset: number, source: AsyncIterable<Uint8Array>, options?: { readonly maxBytes?: number }): Promise<number>;
  /** Bytes of an upload that are there. */
  received(uploadId: string): Promise<number>;
  /** Keeps an upload whose parts are all there, unpacked where it was sent packed; `see` gets every chunk of it and may throw. Throws TooLarge, NotPacked: the parts stay then. */
  finishParts(uploadId: string, options?: FinishOptions): Promise<Stored>;
  dropParts(uploadId: string): Promise<void>;
  /** Writes bytes into a file of this machine for as long as `use` runs, without keeping them. Throws TooLarge while it reads. */
  withFile<T>(source: AsyncIterable<Uint8Array>, options: { readonly maxBytes: number }, use: (path: string) => Promise<T>): Promise<T>;
  has(sha256: string): Promise<boolean>;
  /** A stream of all, which fails at its end with DamagedArtifact where it is not what was put there, or of a range, which is not checked. Throws NoSuchArtifact. */
  read(sha256: string, range?: ByteRange): Promise<OpenBlob>;
  /** Throws NoSuchArtifact, DamagedArtifact. */
  bytes(sha256: string): Promise<Uint8Array>;
  remove(sha256: string): Promise<void>;
  /** Removes from this machine what was never finished and is older than `olderThanMs`, but for parts of uploads that are known; how many files. */
  removeUnfinished(isKnown: (uploadId: string) => boolean, olderThanMs: number): Promise<number>;
  /** Removes what nothing refers to and is older than `olderThanMs`; how many. */
  removeOrphans(isReferenced: (sha256: string) => boolean, olderThanMs: number): Promise<number>;
}

const key = (sha256: string): string => {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new NoSuchArtifact(`${JSON.stringify(sha256)} is no digest of a file.`);
  return `artifacts/${sha256.slice(0, 2)}/${sha256}`;
};

/** The digest that the key of a blob ends with. */
export const digestIn = (blobKey: string): string => blobKey.slice(blobKey.lastIndexOf('/') + 1);

/** Before the id of an upload in the name of the file that holds its parts. */
const PART = 'upload-';

/** The store of files in `blobs`. What is not yet whole is in a folder of this machine. */
export async function openArtifacts(blobs: Blobs, unfinishedFolder: string): Promise<Artifacts> {
  await mkdir(unfinishedFolder, { recursive: true });
  const partPath = (uploadId: string): string => {
    if (!/^[0-9a-zA-Z-]{1,80}$/.test(uploadId)) throw new Error(`${JSON.stringify(uploadId)} is no id of an upload.`);
    return join(unfinishedFolder, `${PART}${uploadId}`);
  };
  const received = async (uploadId: string): Promise<number> => (await stat(partPath(uploadId)).catch(() => null))?.size ?? 0;
  /** A file with the same digest is moved over the one that is there: it may have been damaged. */
  const keep = async (path: string, stored: Stored): Promise<Stored> => {
    await blobs.putFile(key(stored.sha256), path);
    await rm(path, { force: true });
    return stored;
  };

  const addDigested = async (bytes: Uint8Array, sha256: string): Promise<Stored> => {
    await blobs.put(key(sha256), bytes);
    return { sha256, size: bytes.length };
  };

  return {
    addDigested,
    add: async (source, { maxBytes = Infinity } = {}) => {
      if (source instanceof Uint8Array) {
        if (source.length > maxBytes) throw tooLarge(maxBytes);
        return addDigested(source, sha256Of(source));
      }
      const path = join(unfinishedFolder, randomUUID());
      try {
        const hash = createHash('sha256');
        const size = await append(path, 'wx', 0, source, maxBytes, (chunk) => hash.update(chunk));
        return await keep(path, { sha256: hash.digest('hex'), size });
      } catch (error) {
        await rm(path, { force: true });
        throw error;
      }
    },
    addPart: async (uploadId, offset, source, { maxBytes = Infinity } = {}) => {
      const before = await received(uploadId);
      if (before !== offset) throw new WrongOffset(before);
      return append(partPath(uploadId), 'a', before, source, maxBytes, () => undefined);
    },
    received,
    finishParts: async (uploadId, { encoding, maxBytes = Infinity, see = () => undefined } = {}) => {
      const path = partPath(uploadId);
      const hash = createHash('sha256');
      const take = (chunk: Uint8Array): void => {
        see(chunk);
        hash.update(chunk);
      };
      if (encoding === undefined) {
        let size = 0;
        for await (const chunk of createReadStream(path, { highWaterMark: READ_BYTES })) {
          size += chunk.length;
          if (size > maxBytes) throw tooLarge(maxBytes);
          take(chunk);
        }
        return keep(path, { sha256: hash.digest('hex'), size });
      }
      const draft = join(unfinishedFolder, randomUUID());
      try {
        const size = await append(draft, 'wx', 0, unpacked(path), maxBytes, take);
        const stored = await keep(draft, { sha256: hash.digest('hex'), size });
        await rm(path, { force: true });
        return stored;
      } finally {
        await rm(draft, { force: true });
      }
    },
    dropParts: (uploadId) => rm(partPath(uploadId), { force: true }),
    withFile: async (source, { maxBytes }, use) => {
      const path = join(unfinishedFolder, randomUUID());
      try {
        await append(path, 'wx', 0, source, maxBytes, () => undefined);
        return await use(path);
      } finally {
        await rm(path, { force: true });
      }
    },
    has: async (sha256) => (await blobs.stat(key(sha256))) !== null,
    read: async (sha256, range) => {
      const found = await blobs.get(key(sha256), range);
      if (found === null) throw missing(sha256);
      return range === undefined ? { size: found.size, stream: checked(found.stream, sha256) } : found;
    },
    bytes: async (sha256) => {
      const bytes = await blobs.bytes(key(sha256));
      if (bytes === null) throw missing(sha256);
      if (sha256Of(bytes) !== sha256) throw damaged(sha256);
      return bytes;
    },
    remove: (sha256) => blobs.remove(key(sha256)),
    removeUnfinished: async (isKnown, olderThanMs) => {
      let removed = 0;
      for (const name of await readdir(unfinishedFolder)) {
        const path = join(unfinishedFolder, name);
        const age = steadyNow() - ((await stat(path).catch(() => null))?.mtimeMs ?? Infinity);
        if (age < olderThanMs || (name.startsWith(PART) && isKnown(name.slice(PART.length)))) continue;
        await rm(path, { force: true });
        removed++;
      }
      return removed;
    },
    removeOrphans: async (isReferenced, olderThanMs) => {
      const before = steadyNow() - olderThanMs;
      let removed = 0;
      for await (const blob of blobs.list('artifacts/')) {
        if (blob.changedAtMs > before || isReferenced(digestIn(blob.key))) continue;
        await blobs.remove(blob.key);
        removed++;
      }
      return removed;
    },
  };
}

function checked(stream: Readable, sha256: string): Readable {
  const hash = createHash('sha256');
  const check = new Transform({
    transform: (chunk, _encoding, done) => {
      hash.update(chunk);
      done(null, chunk);
    },
    flush: (done) => done(hash.digest('hex') === sha256 ? null : damaged(sha256)),
  });
  const out = new PassThrough();
  pipeline(stream, check, out, () => undefined);
  return out;
}
