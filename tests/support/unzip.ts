import { buffer } from 'node:stream/consumers';
import { promisify } from 'node:util';
import type { Options, ZipFile } from 'yauzl';
import { fromBuffer } from 'yauzl';

const open = promisify<Buffer, Options, ZipFile>(fromBuffer);

/** The parts of a zip archive by name, in their order; sizes and checksums are checked on the way. */
export async function unzip(bytes: Uint8Array): Promise<Map<string, Uint8Array>> {
  const zip = await open(Buffer.from(bytes), { lazyEntries: true, strictFileNames: true, validateEntrySizes: true });
  const parts = new Map<string, Uint8Array>();
  return new Promise((resolve, reject) => {
    zip.on('error', reject);
    zip.on('end', () => resolve(parts));
    zip.on('entry', (entry) => {
      zip.openReadStream(entry, (error, stream) => {
        if (error !== null) return reject(error);
        return buffer(stream).then((part) => {
          parts.set(entry.fileName, new Uint8Array(part));
          zip.readEntry();
        }, reject);
      });
    });
    zip.readEntry();
  });
}
