import { createHash } from 'node:crypto';
import { deserialize, serialize } from 'node:v8';
import type { BlobStat, Blobs } from '../artifacts/blobs.js';

/** Results of stages under their keys. What cannot be read is not there: the stage runs again. */
export interface StageCache {
  /** Undefined where there is none. */
  get(key: string): Promise<unknown>;
  /** Stores beside the work; failures are told by `settled`. */
  put(key: string, result: unknown): void;
  /** Waits for what is being stored; errors of it, and of the clean-up that follows once enough was written. */
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
  let storing: Promise<unknown>[] = [];
  // What others wrote before is looked through after the first cast.
  let written = SHARE * maxBytes;
  return {
    get: async (key) => {
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
      if (maxBytes === 0) return;
      const payload = serialize(result);
      written += payload.length + HEAD_BYTES;
      const bytes = Buffer.concat([MAGIC, digest(payload), payload]);
      storing.push(blobs.put(blobKey(key), bytes, { durable: false }).then(() => null, (error: unknown) => error));
    },
    settled: async () => {
      const errors: unknown[] = (await Promise.all(storing)).filter((error) => error !== null);
      storing = [];
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
