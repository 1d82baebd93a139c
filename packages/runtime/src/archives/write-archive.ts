import type { Readable } from 'node:stream';
import { ZipFile } from 'yazl';
import type { Artifacts } from '../artifacts/artifacts.js';
import { MANIFEST } from './archive-manifest.js';
import type { ArchiveManifest } from './archive-manifest.js';

/** Endings of files that do not get smaller. */
const PACKED = /\.(3mf|glb|jpe?g|pdf|png)$/i;

/** The archive as a zip file, made while it is read: one file after another comes out of the store. It ends with an error where a file is not what was stored. */
export function writeArchive(manifest: ArchiveManifest, artifacts: Artifacts): Readable {
  const zip = new ZipFile();
  const out = zip.outputStream as Readable;
  const fail = (error: Error): void => void out.destroy(error);
  zip.addBuffer(Buffer.from(`${JSON.stringify(manifest, null, 2)}\n`), MANIFEST);
  for (const { path, sha256, size } of manifest.files) {
    zip.addReadStreamLazy(path, { size, compressionLevel: PACKED.test(path) ? 0 : 1 }, (give) => {
      artifacts.read(sha256).then(({ stream }) => {
        stream.once('error', fail);
        give(null, stream);
      }, (error: Error) => {
        fail(error);
        give(error, null as never);
      });
    });
  }
  (zip as unknown as { on(event: 'error', listener: (error: Error) => void): void }).on('error', fail);
  zip.end();
  return out;
}
