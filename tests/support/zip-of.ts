import { buffer } from 'node:stream/consumers';
import { ZipFile } from 'yazl';

/** Files as one zip archive, in their order; the same files give the same bytes. */
export async function zipOf(parts: Iterable<readonly [string, Uint8Array]>, packed = true): Promise<Uint8Array> {
  const zip = new ZipFile();
  for (const [name, bytes] of parts) zip.addBuffer(Buffer.from(bytes), name, { compress: packed, mtime: new Date('2026-03-04T05:06:08Z') });
  zip.end();
  return new Uint8Array(await buffer(zip.outputStream));
}
