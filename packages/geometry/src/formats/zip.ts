import { promisify } from 'node:util';
import { crc32, deflateRaw } from 'node:zlib';

export interface ZipEntry {
  /** Path with forward slashes. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

const LOCAL_HEADER = 0x04034b50;
const CENTRAL_HEADER = 0x02014b50;
const END_OF_DIRECTORY = 0x06054b50;
const LOCAL_BYTES = 30;
const CENTRAL_BYTES = 46;
const END_BYTES = 22;

/** Version 2.0: deflate. Made by: Unix, specification 6.3. */
const NEEDED = 20;
const MADE_BY = (3 << 8) | 63;
const NAME_IS_UTF8 = 0x0800;
const DEFLATED = 8;
/** 1980-01-01, the earliest that a package can hold: it stores wall-clock time without a zone, which would differ from run to run. */
const DATE = (1 << 5) | 1;
/** A regular file, rw-r--r--. */
const MODE = 0o100644;
const MOST_BYTES = 0xfffffffe;

const deflated = promisify<Uint8Array, { level: number }, Buffer>(deflateRaw);

/**
 * A zip package (PKWARE's APPNOTE 6.3) of files of up to 4 GB, each deflated beside the thread. Same files, same bytes.
 * Throws RangeError for what is larger.
 *
 * @param level deflate's, 1 to 9
 */
export async function zipOf(entries: readonly ZipEntry[], level: number): Promise<Uint8Array> {
  const packed = await Promise.all(entries.map(async ({ name, bytes }) => ({ name: Buffer.from(name), crc: crc32(bytes), size: bytes.length, data: await deflated(bytes, { level }) })));
  const parts: Uint8Array[] = [];
  const directory: Uint8Array[] = [];
  let at = 0;
  for (const { name, crc, size, data } of packed) {
    if (size > MOST_BYTES || at + data.length > MOST_BYTES) throw new RangeError(`The file "${name.toString()}" is too large for a zip package.`);
    const common = commonFields(crc, data.length, size, name.length);
    const local = Buffer.alloc(LOCAL_BYTES);
    local.writeUInt32LE(LOCAL_HEADER, 0);
    common.copy(local, 4);
    const central = Buffer.alloc(CENTRAL_BYTES);
    central.writeUInt32LE(CENTRAL_HEADER, 0);
    central.writeUInt16LE(MADE_BY, 4);
    common.copy(central, 6);
    central.writeUInt32LE(MODE * 0x10000, 38);
    central.writeUInt32LE(at, 42);
    parts.push(local, name, data);
    directory.push(central, name);
    at += LOCAL_BYTES + name.length + data.length;
  }
  const end = Buffer.alloc(END_BYTES);
  end.writeUInt32LE(END_OF_DIRECTORY, 0);
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(directory.reduce((sum, { length }) => sum + length, 0), 12);
  end.writeUInt32LE(at, 16);
  return joined([...parts, ...directory, end]);
}

/** What stands in both headers of a file, from the version that is needed to the length of the name and of no extra field. */
function commonFields(crc: number, packedSize: number, size: number, nameLength: number): Buffer {
  const fields = Buffer.alloc(26);
  fields.writeUInt16LE(NEEDED, 0);
  fields.writeUInt16LE(NAME_IS_UTF8, 2);
  fields.writeUInt16LE(DEFLATED, 4);
  fields.writeUInt16LE(DATE, 8);
  fields.writeUInt32LE(crc, 10);
  fields.writeUInt32LE(packedSize, 14);
  fields.writeUInt32LE(size, 18);
  fields.writeUInt16LE(nameLength, 22);
  return fields;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}
