import { promisify } from 'node:util';
import { buffer } from 'node:stream/consumers';
import type { Entry, Options, ZipFile } from 'yauzl';
import { open } from 'yauzl';
import { PassThrough, pipeline } from 'node:stream';
import type { Readable } from 'node:stream';
import type { Artifacts } from '../artifacts/artifacts.js';
import { MANIFEST } from './archive-manifest.js';
import type { ArchiveManifest } from './archive-manifest.js';
import { BadArchive } from './bad-archive.js';
import { parseManifest } from './parse-manifest.js';

export interface ArchiveLimits {
  /** Of all files together, unpacked, bytes. */
  readonly maxBytes: number;
}

const MOST_FILES = 20_000;
const MOST_MANIFEST_BYTES = 64e6;

const openZip = promisify<string, Options, ZipFile>(open);

/**
 * Reads an archive, puts its files into the store under their digests and gives its manifest. Names in the archive are
 * only compared with those in the manifest, never used as paths; bytes are counted as they come out, whatever is announced.
 *
 * Throws BadArchive.
 */
export async function readArchive(path: string, artifacts: Artifacts, { maxBytes }: ArchiveLimits): Promise<ArchiveManifest> {
  let zip: ZipFile;
  try {
    zip = await openZip(path, { lazyEntries: true, autoClose: false, strictFileNames: true, validateEntrySizes: true });
  } catch (error) {
    throw new BadArchive(`It is no zip archive: ${(error as Error).message}.`);
  }
  try {
    const entries = await entriesOf(zip);
    const stream = contentsOf(zip);
    const first = entries.get(MANIFEST);
    if (first === undefined) throw new BadArchive(`It holds no ${MANIFEST}.`);
    if (first.uncompressedSize > MOST_MANIFEST_BYTES) throw new BadArchive(`Its ${MANIFEST} is too large.`);
    const manifest = parseManifest(await buffer(await stream(first)));
    const bytes = manifest.files.reduce((sum, { size }) => sum + size, 0);
    if (bytes > maxBytes) throw new BadArchive(`Its files have ${bytes} bytes; at most ${maxBytes} are taken.`);
    for (const { path: name, sha256, size } of manifest.files) {
      const entry = entries.get(name);
      if (entry === undefined) throw new BadArchive(`The file ${JSON.stringify(name)} is missing.`);
      if (entry.uncompressedSize !== size) throw new BadArchive(`The file ${JSON.stringify(name)} is not as long as ${MANIFEST} says.`);
      const stored = await artifacts.add(await stream(entry), { maxBytes: size });
      if (stored.sha256 !== sha256) throw new BadArchive(`The file ${JSON.stringify(name)} is not what ${MANIFEST} says: its digest is another.`);
    }
    return manifest;
  } catch (error) {
    if (error instanceof BadArchive) throw error;
    // What the reader of zips finds wrong, and a file that goes on beyond its size.
    if (['Error', 'TooLarge', 'RangeError'].includes((error as Error).name) && (error as NodeJS.ErrnoException).syscall === undefined) throw new BadArchive(`It cannot be read: ${(error as Error).message}`);
    throw error;
  } finally {
    zip.close();
  }
}

/**
 * Opens the bytes of entries. The reader of zips tells of what is wrong whether or not someone listens yet, and of nothing
 * that nobody heard a second time: here it comes to whoever reads, whenever they begin, and never to the process.
 */
function contentsOf(zip: ZipFile): (entry: Entry) => Promise<Readable> {
  const open = promisify<Entry, Readable>(zip.openReadStream.bind(zip));
  return async (entry) => {
    const source = await open(entry);
    // It may go on telling after the first fault ended the way of the bytes.
    source.on('error', () => undefined);
    return pipeline(source, new PassThrough(), () => undefined);
  };
}

/** The entries by name. Throws BadArchive where there are too many, or two of one name. */
function entriesOf(zip: ZipFile): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>();
  return new Promise((resolve, reject) => {
    zip.on('error', reject);
    zip.on('end', () => resolve(entries));
    zip.on('entry', (entry: Entry) => {
      if (entries.has(entry.fileName)) return reject(new BadArchive(`It holds ${JSON.stringify(entry.fileName)} twice.`));
      if (entries.size >= MOST_FILES) return reject(new BadArchive(`It holds more than ${MOST_FILES} files.`));
      entries.set(entry.fileName, entry);
      zip.readEntry();
    });
    zip.readEntry();
  });
}
