import { createHash } from 'node:crypto';
import { deserialize, serialize } from 'node:v8';
import type { BlobStat, Blobs } from '../artifacts/blobs.js';

/** Results of stages under their keys. What cannot be read is not there: the stage runs again. */
export interface StageCache {
  /** Undefined where there is none. */
  get(key: string): Promise<unknown>;
  /** Takes it to be stored by `settled`, so that nobody waits for that; until then `get` gives it as it is. */
  put(key: string, result: unknown): void;
  /** Stores what was put; errors of it, and of the clean-up that follows once enough was written. */
  settled(): Promise<readonly unknown[]>;
}

/** Before the bytes: so that those of another form, or cut short, are known. */
const MAGIC = Buffer.from('cast-stage-1\n');
const DIGEST_BYTES = 32;
const HEAD_BYTES = MAGIC.length + DIGEST_BYTES;

/** Looked through after such a share of the space was written. */
const SHARE = 0.05;

const blobKey = (key: string): string => `cache/${key.slice(0, 2)}/${key}`;
const digest = (bytes: Uint8Array): Buffer => createHash('sha256').update(bytes).digest();

/** At most about `maxBytes` of results; those unused for longest go first. */
export function openStageCache(blobs: Blobs, maxBytes: number): StageCache {
  /** Results are never changed once they are made, so they can wait. */
  const waiting = new Map<string, unknown>();
  // What others wrote before is looked through after the first cast.
  let written = SHARE * maxBytes;

  const store = async (key: string, result: unknown): Promise<void> => {
    const payload = serialize(result);
    written += payload.length + HEAD_BYTES;
    await blobs.put(blobKey(key), Buffer.concat([MAGIC, digest(payload), payload]), { durable: false });
  };

  return {
    get: async (key) => {
      if (waiting.has(key)) return waiting.get(key);
      const bytes = await blobs.bytes(blobKey(key));
      if (bytes === null || bytes.length < HEAD_BYTES) return undefined;
      const payload = bytes.subarray(HEAD_BYTES);
      if (!MAGIC.equals(bytes.subarray(0, MAGIC.length)) || !digest(payload).equals(bytes.subarray(MAGIC.length, HEAD_BYTES))) return undefined;
      await blobs.touch(blobKey(key));
      try {
        return deserialize(payload);
      } catch {
        // Written by another version of Node.js.
        return undefined;
      }
    },
    put: (key, result) => {
      if (maxBytes > 0) waiting.set(key, result);
    },
    settled: async () => {
      const errors: unknown[] = [];
      for (const [key, result] of waiting) {
        await store(key, result).catch((error: unknown) => errors.push(error));
        // Another cast may have put the same meanwhile; it is stored all the same.
        waiting.delete(key);
      }
      if (written < SHARE * maxBytes) return errors;
      written = 0;
      try {
        await clearOldest(blobs, maxBytes);
      } catch (error) {
        errors.push(error);
      }
      return errors;
    },
  };
}

async function clearOldest(blobs: Blobs, maxBytes: number): Promise<void> {
  const all: BlobStat[] = [];
  for await (const blob of blobs.list('cache/')) all.push(blob);
  let bytes = all.reduce((sum, { size }) => sum + size, 0);
  for (const { key, size } of all.sort((a, b) => a.changedAtMs - b.changedAtMs)) {
    if (bytes <= maxBytes) break;
    await blobs.remove(key);
    bytes -= size;
  }
}
