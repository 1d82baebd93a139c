import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { pipeline } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { NotPacked, tooLarge } from './refusals.js';

/** Files that are not whole yet. */

/** Read at a time, bytes. */
export const READ_BYTES = 1024 * 1024;

/** Writes a stream at the end of a file; the file's bytes then. What came before a failure stays. */
export async function append(path: string, flags: 'wx' | 'a', before: number, source: AsyncIterable<Uint8Array>, maxBytes: number, see: (chunk: Uint8Array) => void): Promise<number> {
  const file = await open(path, flags);
  try {
    let size = before;
    for await (const chunk of source) {
      size += chunk.length;
      if (size > maxBytes) throw tooLarge(maxBytes);
      see(chunk);
      await file.writeFile(chunk);
    }
    return size;
  } finally {
    await file.close();
  }
}

/** The bytes of a file that was packed by gzip. Throws NotPacked. */
export async function* unpacked(path: string): AsyncGenerator<Uint8Array> {
  const gunzip = createGunzip();
  const source = createReadStream(path, { highWaterMark: READ_BYTES });
  pipeline(source, gunzip, () => undefined);
  try {
    yield* gunzip as AsyncIterable<Uint8Array>;
  } catch (error) {
    if (String((error as NodeJS.ErrnoException).code).startsWith('Z_')) throw new NotPacked(`The file is not packed by gzip, or is cut short: ${(error as Error).message}.`);
    throw error;
  } finally {
    source.destroy();
  }
}
